/** Text of files on a terminal, which would obey some of it: it would clear, colour, rename itself, or show a line in another order. */

const OBEYED = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u2028\u2029\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/g;

/** The same text with a sign in place of each that a terminal obeys (Unicode's control pictures, U+2400 and on); line ends and tabs stay. */
export function forTerminal(text: string): string {
  return text.replace(OBEYED, (sign) => {
    const code = sign.charCodeAt(0);
    return code < 0x20 ? String.fromCharCode(0x2400 + code) : code === 0x7f ? '␡' : '\ufffd';
  });
}

/** JSON, in which such a sign is written by its number. */
export function jsonForTerminal(json: string): string {
  return json.replace(OBEYED, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`);
}
