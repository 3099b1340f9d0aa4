/** Ids of the newest underpowered arcs, as soon as there are so many. */
export async function weakArcs(url: string, least: number): Promise<number[]> {
  for (;;) {
    const answer = await fetch(new URL('/api/v1/arcs?verdict=underpowered', url));
    const page = (await answer.json()) as { arcs: { id: number }[] };
    if (page.arcs.length >= least) return page.arcs.map(({ id }) => id);
    await new Promise((resolve) => setTimeout(resolve, 500));
  }
}
