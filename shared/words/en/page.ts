/** The head, the foot, and what stands on every screen. */
export const page = {
  toContent: 'To the content',
  views: 'Views',
  tabs: {
    floor: 'Floor',
    wall: 'Wall',
    check: 'Check',
    jobs: 'Jobs',
    plan: 'Plan',
    shop: 'Shop',
    settings: 'Settings',
  },
  more: 'More',
  titles: {
    floor: 'The floor',
    wall: 'The floor, large',
    flags: 'Flagged arcs',
    circuit: 'A circuit',
    arc: 'An arc',
    checks: 'Check an outlet',
    check: 'An outlet check',
    right: 'What would make it right',
    plan: 'Plan machines and circuits',
    jobs: 'Job sheets',
    job: 'A job sheet',
    'new-set-up': 'A new set-up',
    'set-up': 'A set-up',
    welds: 'Welds of a job',
    shop: 'Plates and circuits',
    settings: 'Settings',
    'edit-plate': 'A plate',
    'edit-circuit': 'A circuit’s description',
    'edit-feeder': 'A feeder',
    people: 'People',
    audit: 'Changes',
  },
  cautions:
    'Adequate says that the electricity was there, never that a weld is sound: test coupons. ' +
    'Wiring is for a licensed electrician and the local code. A hot plug, or one leg up while ' +
    'the other is down: stop.',
  link: {
    connecting: 'Connecting …',
    live: 'Live',
    stale: (since: string | null) =>
      since === null ? 'Stale: nothing heard' : `Stale: nothing heard since ${since}`,
    offline: (since: string | null) =>
      since === null ? 'Cut off: trying again' : `Cut off since ${since}: trying again`,
    locked: 'Access code needed',
  },
  leftOut: (rows: number) => `${rows} readings left out: slow page`,
  missed: (seconds: number, arcs: number, weak: number) =>
    `This page heard nothing for ${seconds} s. ${
      arcs === 0
        ? 'No arc was judged meanwhile.'
        : `Judged meanwhile: ${arcs} ${arcs === 1 ? 'arc' : 'arcs'}, ${
            weak === 0 ? 'none' : weak
          } underpowered.`
    } What the server has of that time is filled in; the rest stays a gap.`,
  missedSeen: 'I see',
};
