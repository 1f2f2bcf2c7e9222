/** What plays: asks for the take, follows it through the score and the text, and keeps to its phrase whatever is shown meanwhile. */
import type { FromView, NotePlace, Pass, PlayedTake, Practice, ScorePhrase, Stretch, ViewOptions } from '../src/score/messages';
import type { Page } from './page';
import { createPlayer } from './player';

/** What is to be played. */
export interface Wish {
  readonly uri: string;
  /** Its index in the score that is shown. */
  readonly index: number;
  readonly phrase: ScorePhrase;
  readonly stretch: Stretch | null;
  /** Beats a minute; null: as written. */
  readonly tempo: number | null;
  readonly practice: Practice;
  /** A bar is asked for to hear it again and again; what is practised goes on until it is stopped. */
  readonly repeat: 'none' | 'all' | 'last';
}

export interface PlayingHost {
  post(message: FromView): void;
  page(): Page | null;
  /** The phrases that are shown, and of which document. */
  shown(): { readonly uri: string; readonly phrases: readonly ScorePhrase[] };
  options(): ViewOptions;
  /** It plays, or is about to. */
  onPlaying(isPlaying: boolean): void;
  say(words: string): void;
}

export interface Playing {
  start(wish: Wish): Promise<void>;
  stop(): void;
  isPlaying(): boolean;
  /** Other phrases are shown now, or the same in other places: marks what sounds where it stands. */
  follow(): void;
  /** Takes levels and muting from the options. */
  applyLevels(): void;
  /** The answer to a question for a take. */
  answer(ask: number, take: PlayedTake | null): void;
  /** The answer to a ping: how long the way to the extension and back takes. */
  pong(sent: number): void;
}

/** What plays, and how far it is. */
interface Current {
  readonly wish: Wish;
  /** Null while it is asked for. */
  take: PlayedTake | null;
  note: number | null;
  pass: number | null;
}

/** Milliseconds until what the text is told to draw is seen: a frame. */
const FRAME = 16;
/** Milliseconds; a longer way to the extension is a hitch, not the rule. */
const LONGEST_TRIP = 100;

export function createPlaying(host: PlayingHost): Playing {
  /** What plays or is about to; another wish or a stop takes its place. */
  let current: Current | null = null;
  let roundTrip = 0;
  let asks = 0;
  const answers = new Map<number, (take: PlayedTake | null) => void>();

  /** Where the phrase that plays stands in what is shown; null where it is not shown, or was changed since. */
  const indexNow = (): number | null => {
    const { uri, phrases } = host.shown();
    if (current === null || current.wish.uri !== uri) return null;
    const { name, musicXml } = current.wish.phrase;
    const index = phrases.findIndex((phrase) => phrase.name === name && phrase.musicXml === musicXml);
    return index < 0 ? null : index;
  };
  const placeNow = (note: number): NotePlace | null => {
    const phrase = indexNow();
    return phrase === null ? null : { phrase, note };
  };

  const player = createPlayer({
    onStep(step) {
      if (current !== null) current.note = step?.note ?? null;
      showNote();
    },
    onAhead(step, inMilliseconds) {
      const during = current;
      // The text is told so much earlier as the message takes to the extension, its mark to the editor, and a frame to be drawn.
      setTimeout(() => {
        if (during !== null && during === current) host.post({ type: 'sounding', place: placeNow(step.note) });
      }, Math.max(0, inMilliseconds - roundTrip - FRAME));
    },
    onPass(pass, index) {
      if (current === null || current.take === null) return;
      current.pass = index;
      showKey();
      host.say(passWords(current.take, pass, index));
      ping();
    },
    onEnd: () => end(),
    onBlocked() {
      end();
      host.say('Sound waits for a click in this page: choose Play.');
    },
  });

  const showNote = (): void => host.page()?.markSounding(current === null || current.note === null ? null : placeNow(current.note));

  const showKey = (): void => {
    if (current === null || current.take === null || current.pass === null) return;
    const [phrase, pass, picture] = [indexNow(), current.take.passes[current.pass]!, current.take.pictures[current.pass]];
    if (phrase === null || picture === undefined) host.page()?.showWritten();
    else host.page()?.showPlayed(phrase, picture, pass.shift === 0 ? '' : `Shown ${keyWords(pass)}, as it sounds; the text stays as it is.`);
  };

  const end = (): void => {
    current = null;
    host.page()?.showWritten();
    host.page()?.markSounding(null);
    host.post({ type: 'sounding', place: null });
    host.onPlaying(false);
    host.say('');
  };

  const ping = (): void => host.post({ type: 'ping', sent: performance.now() });

  const takeFor = ({ index, phrase, stretch, tempo, practice }: Wish): Promise<PlayedTake | null> => {
    asks += 1;
    const { ratio, countIn } = host.options();
    host.post({ type: 'take', question: { ask: asks, phrase: index, name: phrase.name, stretch, tempo, ratio, countIn, practice } });
    return new Promise((resolve) => answers.set(asks, resolve));
  };

  const applyLevels = (): void => {
    const { levels, lineMuted } = host.options();
    for (const voice of ['line', 'chords', 'bass', 'click'] as const) player.setLevel(voice, levels[voice]);
    player.muteLine(lineMuted);
  };

  const stop = (): void => {
    if (current === null) return;
    const wasHeard = player.playing;
    player.stop();
    // What was stopped before it was heard has nothing to end by itself.
    if (!wasHeard) end();
  };

  return {
    async start(wish) {
      stop();
      const mine: Current = { wish, take: null, note: null, pass: null };
      current = mine;
      host.onPlaying(true);
      ping();
      const take = await takeFor(wish);
      if (current !== mine) return;
      if (take === null || take.cursor.length === 0) {
        end();
        return host.say(take === null ? 'The sound could not be made. Try again; if it stays so, the output says why.' : 'There is nothing to play here.');
      }
      mine.take = take;
      applyLevels();
      host.page()?.prepare(take.pictures);
      if ((await player.play(take, wish.repeat)) && take.countIn > 0) host.say('Count-in');
    },
    stop,
    isPlaying: () => current !== null,
    follow() {
      showKey();
      showNote();
    },
    applyLevels,
    answer(ask, take) {
      answers.get(ask)?.(take);
      answers.delete(ask);
    },
    pong(sent) {
      roundTrip = Math.min(LONGEST_TRIP, performance.now() - sent);
    },
  };
}

function passWords({ passes }: PlayedTake, pass: Pass, index: number): string {
  const tempo = `${Math.round(pass.tempo)} beats a minute`;
  if (passes.length === 1) return tempo;
  return `${index + 1} of ${passes.length}: ${passes.some(({ shift }) => shift !== 0) ? keyWords(pass) : tempo}`;
}

function keyWords({ tonic, shift }: Pick<Pass, 'tonic' | 'shift'>): string {
  return tonic === null ? `${Math.abs(shift)} half steps ${shift < 0 ? 'down' : 'up'}` : `in ${tonic}`;
}
