/** Text of a file among the editor's own words, where the editor reads signs in it: `[words](command:…)` is a link in notifications, `$(name)` a picture in lists and lenses. */

/** Parts signs, and cannot be seen. */
const JOINER = '\u2060';

/** Control characters, line ends and what turns the direction of a text: they would hide or turn the words around them. */
const UNSEEN = /[\p{Cc}\u2028\u2029\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]+/gu;

/** The same words, in which the editor finds neither link nor picture. */
export function asWords(text: string): string {
  return text.replace(UNSEEN, ' ').replace(/\](?=\()|\$(?=\()/g, (sign) => sign + JOINER);
}
