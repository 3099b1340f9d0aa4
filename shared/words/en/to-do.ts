const others = 'Unplug the compressor, or whatever else runs here';

/** What is to be done in an outlet check: no figures, so a page finds it by its English. */
export const toDo = {
  unplugAll: () => 'Unplug whatever is in this outlet.',
  awaitReading: () => 'Wait for the first reading.',
  unplugMachine: () => 'Unplug the machine; the cord and the sensor at its end stay.',
  lookAtBreaker: () => 'Look at the breaker, and whether the sensor is on this outlet.',
  waitTouchNothing: () => 'Wait: touch nothing for some seconds.',
  unplugOthersWait: () => `${others}; wait. If it must run, weld the bead now.`,
  weldBead: () => 'Weld a bead on a coupon.',
  keepWelding: () => 'Keep welding.',
  weldLonger: () => 'Weld a longer bead.',
  weldHeavier: () => 'Set the machine heavier and weld again.',
  nearerToNetwork: () => "Bring the sensor nearer to the shop's network, and weld again.",
  unplugOthersWeld: () => `${others}, and weld again.`,
  keepWeldingToEnd: () => 'Keep welding; the end of the bead counts too.',
  weldWithPauses: () => 'Weld again, longer and heavier, with pauses of some seconds.',
  leaveEmpty: () => 'Leave the outlet empty until its voltage is taken.',
  leaveUnplugged: () =>
    'Leave the machine unplugged until the voltage at the end of the cord is taken.',
  plugIn: () => 'Plug the machine in, switch it on, and go on.',
  leaveIdle: () => 'Leave the machine on without welding.',
  switchOn: () => 'Switch the machine on.',
  goOnIfOn: () => 'No current is seen yet. Is the machine on? Then go on.',
  clampCoupon: () => 'Go on, and clamp a coupon of the same metal.',
  firstBead: () => 'Weld a bead on the coupon, two seconds or more, at your usual setting.',
  endBead: () => 'Enough is in: end the bead when you like.',
  enoughWithCord: () => 'Enough. Weld again with the cord you will use, or have it judged.',
  enoughForFull: () => 'Enough. Weld again at full setting for surer figures, or have it judged.',
  enoughJudge: () => 'Enough: have it judged.',
  secondWithCord: () => 'Put the cord in, uncoiled, and weld another bead on the coupon.',
  secondAtFull: () =>
    'Set the machine as high as the work will need, and weld another bead on the coupon.',
  nameMachine: () => 'Say which machine it is: all is held against its rating plate.',
  tryCord: () => 'Weld the second bead with the cord that the work will use.',
  resultStands: () => 'Done: the result stands with this outlet.',
  beginWhenReady: () => 'Begin a new check when you are ready.',
};
