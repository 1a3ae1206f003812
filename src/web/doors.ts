/** Pages and acts that only an owner is let to; what begins with one of these is meant too. */
const FOR_OWNERS = ['/lens-designs', '/claims', '/weights', '/people', '/shop'];
const FOR_OWNERS_ENDING = /^\/wearers\/[^/]+\/(records|erase)\b/;

/** What is asked before somebody is signed in. */
const OPEN = ['/sign-in', '/welcome'];

const within = (path: string, heads: readonly string[]): boolean =>
  heads.some((head) => path === head || path.startsWith(`${head}/`) || path.startsWith(`${head}.`));

export const isForOwners = (path: string): boolean =>
  within(path, FOR_OWNERS) || FOR_OWNERS_ENDING.test(path);

export const standsOpen = (path: string): boolean => within(path, OPEN);

/** A page of ours to go on to after signing in; anything else is the bench. Never an address of somebody else's. */
export const pageOfOurs = (asked: string | undefined): string =>
  asked !== undefined && /^\/[a-z][a-z-]*(\/[\w-]+)*$/.test(asked) && !standsOpen(asked) ? asked : '/bench';
