/** The formats in which a lesson goes out as music. */
export const MUSIC_FORMATS = ['musicxml', 'mxl', 'midi'] as const;
export type MusicFormat = (typeof MUSIC_FORMATS)[number];

/** What files of a format end in, without the dot. */
export const MUSIC_ENDINGS: Readonly<Record<MusicFormat, string>> = { musicxml: 'musicxml', mxl: 'mxl', midi: 'mid' };
