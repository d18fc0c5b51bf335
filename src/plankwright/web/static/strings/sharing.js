/** What the page says: pair, share. */

export const pair = {
  how: 'The computer lets this device in. The sign-in ends by itself after two weeks, and the computer can take it back at any time.',
  scan: 'This device is not signed in. On the computer open “On the phone” and scan the code it shows.',
  name: 'Name of this device',
  phone: 'Phone',
  signIn: 'Sign this device in',
};

export const share = {
  title: 'On the phone',
  how: (/** @type {string} */ address) => `Phones on your network find the page at ${address}, once they have scanned a code.`,
  code: 'Show a code to scan',
  codeWords: 'Code to scan with the phone',
  once: 'Good once, and for ten minutes.',
  notShared: 'For the phone on your home network, stop the server and start it with',
  devices: 'Signed in',
  until: (/** @type {Date} */ when) => `until ${when.toLocaleDateString('en-US', { month: 'short', day: 'numeric' })}`,
  revoke: 'Take back',
  revokeOf: (/** @type {string} */ name) => `Take the sign-in of ${name} back`,
};
