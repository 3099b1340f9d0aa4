/** First visit from another device. */
export const access = {
  heading: 'This device is new here',
  what: 'Type the access code. It stands on the screen where Stiffline was started.',
  code: 'Access code',
  enter: 'Let me in',
};
