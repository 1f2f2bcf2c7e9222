/** A lesson that can be heard at once, aligned as the formatter aligns it; the notes are selected at the end, to be written over. In the editor's snippet syntax. */
export const LESSON = `lesson "\${1:My lesson}"

phrase "\${2:First phrase}"
  key     C major
  tempo   120 swing
  over    | Dm7       G7      | Cmaj7   |
  line    | \${0:D4-F A-C5 B-G F-D | E ~ . .} |
`;
