/** Whether prose tells degrees: a sheet on which students write them would have the answers in it. */

/** `b3`, `♯11`, `#9`: a figure with an accidental says nothing else. A chord symbol has letters before it. */
const ALTERED = /(?<![\p{L}\p{N}#♭♯])(?:[b♭]{1,2}|[#♯]{1,2}|n)(?:[1-79]|11|13)(?![\p{L}\p{N}])/u;
/** `1-2-3-5`, `3, 5, flat 7`, `7 to 3`: figures in a row. */
const FIGURE = String.raw`(?:(?:flat |sharp )?(?:[1-79]|11|13))(?![\p{L}\p{N}%:/+])`;
const ROW = new RegExp(
  String.raw`(?<!(?:[Bb]ars?|[Bb]eats?|[Mm]easures?|[Ss]ystems?|[Pp]ages?) )(?<![\p{L}\p{N}#♭♯./:+-])${FIGURE}(?:-|–|, | to | and |, and )${FIGURE}(?! *(?:bars?|beats?|measures?|times|keys|notes|choruses|eighths|quarters|minutes|players))`,
  'u',
);
/** `the 3`, `its 9`, `flat 9`: one figure that is called a thing; `E flat 7` is a chord. */
const ONE =
  /(?:\b(?:[Tt]he|[Ii]ts|an?|[Ee]ach|[Ee]very) (?:flat |sharp |natural |major |minor )?|(?<![A-G][ -])\b(?:[Ff]lat|[Ss]harp|[Nn]atural) )(?:[1-79]|11|13)(?![\p{L}\p{N}%:/+.]*[\p{L}\p{N}%:/+])(?! (?:bars?|beats?|measures?|times|keys|notes|choruses|eighths|quarters|minutes|players|lines|phrases|parts|chords)\b)/u;
/** A root is nothing else in music; a triad's third may be many things, and is one where it is not counted on. */
const ROOT = /\broots?\b/i;
const ORDINAL =
  /\b(?:thirds?|fourths?|fifths?|sixths?|sevenths?|ninths?|elevenths?|thirteenths?)\b|\b(?:flat|sharp|natural|raised|lowered) (?:two|three|four|five|six|seven|nine|eleven|thirteen|second)\b/giu;
/** What is counted: `the third bar`. */
const COUNTED =
  /^ (?:bars?|beats?|measures?|times?|notes?|phrases?|lines?|choruses|chorus|chords?|keys?|systems?|lessons?|exercises?|days?|weeks?|steps?|statements?|rounds?|ones?|one|eighths?|quarters?|fingers?|strings?|frets?|parts?|(?:and|or|to) \w+ (?:bars?|beats?|notes?|times?|phrases?))\b/i;
/** An interval: `up a third`, `in thirds`, `a fifth below`. */
const INTERVAL_BEFORE =
  /\b(?:(?:up|down|rises?|falls?|climbs?|drops?|leaps?|jumps?|moved|moves?|transposed|by) (?:(?:an?|one|the|of) )?(?:(?:major|minor|perfect) )?|(?:in|of|parallel|broken|by) )$/i;
const INTERVAL_AFTER = /^ (?:above|below|higher|lower|up|down|away|apart|over|under)\b/i;

/** Reads English, and figures in any language. In doubt a text tells a degree, but not where it counts bars, beats or times, or says an interval. */
export function tellsDegree(text: string): boolean {
  if (ALTERED.test(text) || ROW.test(text) || ONE.test(text) || ROOT.test(text)) return true;
  return [...text.matchAll(ORDINAL)].some(({ 0: word, index }) => {
    const [before, after] = [text.slice(0, index), text.slice(index + word.length)];
    return !COUNTED.test(after) && !INTERVAL_AFTER.test(after) && !(INTERVAL_BEFORE.test(before) && /^\w+$/.test(word));
  });
}
