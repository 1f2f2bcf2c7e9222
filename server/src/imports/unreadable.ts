/** A file that cannot be brought in: the message says what is wrong with it and what would help. */
export class Unreadable extends Error {}
