/** Text of a file as part of a line that an editor shows. */

/** Control characters, separators of lines, and what turns the direction of a text. */
const UNSEEN = /[\p{Cc}\u2028\u2029\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]+/gu;

/** The same with a space in place of signs that cannot be seen and would break the line, or show it in another order. */
export function plainLine(text: string): string {
  return text.replace(UNSEEN, ' ');
}
