/** What must be said with a judgement, and the verdicts where no finding has said more. */
export const cautions = {
  adequateMeans: () =>
    'Adequate says that the electricity was there, not that a weld is sound: test a coupon.',
  manualRules: () => "The machine's manual and the vehicle maker's procedure rule.",
  forElectrician: () =>
    'Wiring, breakers and outlets are for a licensed electrician and the local code.',
  wrongSupply: () =>
    'Do not plug the machine in here, and unplug it if it is: a plug that fits says nothing of ' +
    'the voltage.',
  hotPlug: () =>
    'A warm plug, a discoloured outlet or a buzz: stop, and have an electrician look at it.',
  neutral: () =>
    'One leg up and the other down may be a failing neutral: stop, switch off, call an ' +
    'electrician.',
  placeUnstated: () =>
    'Nobody said whether the sensor is at the outlet or at the machine. A cord after it takes ' +
    'more voltage than this shows. Say it with the circuit.',
  cord: () => 'Use the shortest and heaviest cord there is, and uncoil it fully.',
  planApproves: () =>
    'A plan is of electricity and rating plates alone: it approves no machine and no weld.',
  listsRule: () =>
    "The vehicle maker's procedure and list of equipment, and the machine's manual, rule.",
  describedIsEstimate: () =>
    'A circuit worked out from its description is an estimate: measure it before buying by it.',

  backwards: ({ pair }: { pair: number }) =>
    `Pair ${pair} measures power that flows backwards: its current sensor sits the ` +
    'wrong way round or on another conductor. Where it sits in an outlet or a panel, have a ' +
    'licensed electrician turn it; then record again.',
  notListed: ({ count, what }: { count: number; what: 'arcs' | 'sags' | 'swells' }) =>
    `${count} more ${what} were judged and are in the findings, but are not listed.`,

  wasAdequate: () => 'The circuit delivered what the plate needs.',
  wasMarginal: () => 'The circuit was at the limit of what the plate needs.',
  wasUnderpowered: () => 'The circuit did not deliver what the plate needs.',
  wasUnproven: () => 'Nothing proves what the circuit delivered.',
  wasUnsuited: () => 'The machine is made for another supply than this one.',
};
