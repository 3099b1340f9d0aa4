import { arcsOf, type Story, type StoryArc, storySeconds } from './story.ts';
import { rateHz, World } from './world.ts';

/** An arc by its place in the world, whatever boot it was told in. */
interface Seen {
  start: number;
  end: number;
  verdict: string;
}

const cycle = rateHz / 60;
const around = 0.3 * rateHz;
const faultless = new Map<number, Seen[]>();

/** What the arcs of a set come to when nothing goes wrong. */
function expected(set: number): Seen[] {
  let seen = faultless.get(set);
  if (!seen) {
    const world = new World(arcsOf(set), [], { killsAt: [], storeFails: [] });
    world.run(storySeconds);
    world.settle(60);
    seen = seenIn(world);
    faultless.set(set, seen);
  }
  return seen;
}

function seenIn(world: World): Seen[] {
  return world
    .arcs()
    .flatMap(({ boot, start, end, arc }) => {
      const base = world.boots.find(({ number }) => number === boot)?.base;
      return base === undefined
        ? []
        : [{ start: base + start, end: base + end, verdict: arc.verdict }];
    })
    .sort((a, b) => a.start - b.start);
}

/** Stretches of the world's frames that are stored, joined within a boot where they touch. */
function stored(world: World): [number, number][] {
  return world.boots.flatMap(({ number, base }) => {
    const joined: [number, number][] = [];
    for (const { first, n } of world.blocks(number)) {
      const last = joined.at(-1);
      if (last && last[1] === base + first) last[1] += n;
      else joined.push([base + first, base + first + n]);
    }
    return joined;
  });
}

/** Runs a story and tells what does not hold; nothing where all does. */
export function broken(story: Story): string[] {
  const wanted = expected(story.arcsOf);
  const world = new World(story.arcs, story.faults, story.server);
  world.run(storySeconds);
  const found = [...(world.settle(200) ? [] : ['the server does not get all']), ...world.broken];
  const seen = seenIn(world);
  const held = stored(world);
  for (const [n, arc] of seen.entries())
    if (n > 0 && arc.start < seen[n - 1]!.end) found.push(`arc at ${at(arc)} is stored twice`);
  let wholeSoFar = world.boots.length === 1 && world.lostFrames === 0;
  for (const arc of wanted) {
    const whole = held.some(([from, to]) => from <= arc.start - around && to >= arc.end + around);
    wholeSoFar &&= whole;
    const same = seen.filter(({ start, end }) => start < arc.end && end > arc.start);
    if (!whole) {
      if (!accounted(world)) found.push(`arc at ${at(arc)} is not whole, and nothing tells of it`);
      continue;
    }
    const [only] = same;
    if (!only || same.length > 1) found.push(`arc at ${at(arc)} is stored ${same.length} times`);
    else if (Math.abs(only.start - arc.start) > cycle || Math.abs(only.end - arc.end) > cycle)
      found.push(`arc at ${at(arc)} became ${at(only)}`);
    else if (wholeSoFar && only.verdict !== arc.verdict)
      found.push(`arc at ${at(arc)} was ${arc.verdict}, became ${only.verdict}`);
  }
  for (const arc of seen)
    if (!wanted.some(({ start, end }) => arc.start < end && arc.end > start))
      found.push(`arc at ${at(arc)} never burned`);
  return [...found, ...gaps(world, story.arcs)];
}

const at = ({ start, end }: Seen) =>
  `${(start / rateHz).toFixed(3)}…${(end / rateHz).toFixed(3)} s`;

/** Whether anything at all says that frames are missing. */
function accounted({ boots, lostFrames, firmware }: World): boolean {
  const health = firmware?.health;
  return (
    boots.length > 1 ||
    lostFrames > 0 ||
    (health !== undefined && health.lostFrames + health.dropped + health.flashErrors > 0)
  );
}

/**
 * A gap between two blocks is told by the second, or nothing burned in it but what the sensor's
 * health counts as lost: frames that went while it saw no arc.
 */
function gaps(world: World, arcs: readonly StoryArc[]): string[] {
  const health = world.firmware?.health;
  const dropped = world.boots.length > 1 || (health?.dropped ?? 0) > 0;
  return world.boots.flatMap(({ number, base }) => {
    let end = 0;
    return world.blocks(number).flatMap(({ first, n, lost }) => {
      const gap = [base + end, base + first - lost] as const;
      const hidden = arcs.reduce((sum, { from, to }) => {
        const start = Math.max(gap[0], from * rateHz + cycle);
        return sum + Math.max(0, Math.min(gap[1], to * rateHz - cycle) - start);
      }, 0);
      end = first + n;
      if (dropped || hidden <= (health?.lostFrames ?? 0)) return [];
      return [`frames ${gap.join('…')} are missing, and nothing tells of it`];
    });
  });
}
