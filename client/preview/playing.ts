/** What plays: asks for the take, follows it through the score and the text, and keeps to its phrase whatever is shown meanwhile. */
import type { FromView, NotePlace, Pass, PlayedTake, Practice, Renamed, ScorePhrase, Stretch, ViewOptions } from '../src/score/messages';
import type { Page } from './page';
import type { Piano } from './piano';
import { createPlayer, type Repeat } from './player';
import { renamed, soundingWords, type Subject } from './subject';

/** What is to be played. */
export interface Wish {
  readonly uri: string;
  readonly phrase: ScorePhrase;
  readonly stretch: Stretch | null;
  /** Beats a minute; null: as written. */
  readonly tempo: number | null;
  readonly practice: Practice;
  readonly repeat: Repeat;
}

export interface PlayingHost {
  post(message: FromView): void;
  page(): Page | null;
  /** The phrases that are shown, and of which document. */
  shown(): { readonly uri: string; readonly phrases: readonly ScorePhrase[] };
  options(): ViewOptions;
  /** Null where it cannot be had. */
  loadPiano(): Promise<Piano | null>;
  /** It plays, or is about to (as often as said); null: it does not. */
  onPlaying(repeat: Repeat | null): void;
  say(words: string): void;
  /** The phrase that sounds and the bar of it, in words; empty for nothing. */
  showSounding(words: string): void;
}

export interface Playing {
  start(wish: Wish): Promise<void>;
  stop(): void;
  /** Goes on with other wishes from the note that sounds now: a tempo or a loop that was changed meanwhile. */
  change(changed: Partial<Pick<Wish, 'tempo' | 'practice' | 'repeat'>>): void;
  isPlaying(): boolean;
  /** What plays or is about to, wherever it stands; null: nothing. */
  subject(): Subject | null;
  /** Other phrases are shown now, or the same in other places: marks what sounds where it stands, and takes up an edit of it. */
  follow(): void;
  /** What plays goes on where its file was renamed. */
  rename(files: readonly Renamed[]): void;
  /** Takes levels, muting and the piano from the options. */
  applyLevels(): void;
  /** The answer to a question for a take. */
  answer(ask: number, take: PlayedTake | null): void;
  /** The answer to a ping: how long the way to the extension and back takes. */
  pong(sent: number): void;
}

/** What plays, and how far it is. */
interface Current {
  wish: Wish;
  /** Null while it is asked for. */
  take: PlayedTake | null;
  note: number | null;
  pass: number | null;
}

/** Milliseconds until what the text is told to draw is seen: one frame until the editor draws, one until that is shown (so measured). */
const DRAWN = 32;
/** Milliseconds of rest after an edit before it is taken up, so that half a bar is not: longer than errors wait for the writer to rest. */
const REST = 1200;
/** Milliseconds; a longer way to the extension is a hitch, not the rule. */
const LONGEST_TRIP = 100;
/** From how many ways to the extension and back it is told what the next will take, and how often one is tried besides the messages to the text (milliseconds). */
const TRIPS = 15;
const TRIED_EVERY = 200;
/**
 * Marks of the user timing, for a `PerformanceObserver` outside: when the text was told of a note (`detail`: the note, and when it is due to
 * be heard), and that a message has come to the extension and back (`detail`: when it was sent, and how many milliseconds it took).
 */
const TOLD_MARK = 'phrasewright:told';
const TRIP_MARK = 'phrasewright:trip';

export function createPlaying(host: PlayingHost): Playing {
  /** What plays or is about to; another wish or a stop takes its place. */
  let current: Current | null = null;
  /** The last ways to the extension and back, in milliseconds. One alone may have met a busy moment. */
  const trips: number[] = [];
  let renewing = 0;
  let trying = 0;
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

  const player = createPlayer(
    {
      onStep(step) {
        if (current !== null) current.note = step?.note ?? null;
        showNote();
      },
      onAhead(step, inMilliseconds) {
        const [during, due] = [current, performance.now() + inMilliseconds];
        // The text is told so much earlier as the message takes to the extension, its mark to the editor and to the screen.
        setTimeout(
          () => {
            if (during === null || during !== current) return;
            const sent = performance.now();
            showObservers(TOLD_MARK, { startTime: sent, detail: { note: step.note, due } });
            host.post({ type: 'sounding', place: placeNow(step.note), sent });
          },
          Math.max(0, inMilliseconds - expectedTrip(trips) - DRAWN),
        );
      },
      onPass(pass, index) {
        if (current === null || current.take === null) return;
        current.pass = index;
        showPass(current.take, pass, index);
      },
      onEnd: () => end(),
      onBlocked() {
        end();
        host.say('Sound waits for a click in this page: choose Play.');
      },
    },
    () => host.loadPiano(),
  );

  const showNote = (): void => {
    host.page()?.markSounding(current === null || current.note === null ? null : placeNow(current.note));
    // Between two passes no note sounds; the bar that was said stays.
    if (current !== null && current.note !== null) host.showSounding(soundingWords(current.wish.phrase, current.note));
  };

  const showKey = (): void => {
    if (current === null || current.take === null || current.pass === null) return;
    const [phrase, pass, picture] = [indexNow(), current.take.passes[current.pass]!, current.take.pictures[current.pass]];
    if (phrase === null || picture === undefined) host.page()?.showWritten();
    else
      host.page()?.showPlayed(phrase, picture, pass.shift === 0 ? '' : `Shown ${keyWords(pass)}, as it sounds; the text stays as it is.`);
  };

  const showPass = (take: PlayedTake, pass: Pass, index: number): void => {
    showKey();
    host.say(passWords(take, pass, index));
  };

  const end = (): void => {
    clearTimeout(renewing);
    clearInterval(trying);
    current = null;
    host.page()?.showWritten();
    host.page()?.markSounding(null);
    host.post({ type: 'sounding', place: null, sent: performance.now() });
    host.onPlaying(null);
    host.post({ type: 'playing', isPlaying: false });
    host.say('');
    host.showSounding('');
  };

  const ping = (): void => host.post({ type: 'ping', sent: performance.now() });

  const takeFor = ({ uri, phrase, stretch, tempo, practice }: Wish): Promise<PlayedTake | null> => {
    asks += 1;
    const { ratio, countIn } = host.options();
    host.post({
      type: 'take',
      question: { ask: asks, uri, name: phrase.name, start: phrase.start, stretch, tempo, ratio, countIn, practice },
    });
    return new Promise((resolve) => answers.set(asks, resolve));
  };

  const applyLevels = (): void => {
    const { levels, lineMuted, piano } = host.options();
    for (const voice of ['line', 'chords', 'bass', 'click'] as const) player.setLevel(voice, levels[voice]);
    player.muteLine(lineMuted);
    player.setPiano(piano);
  };

  const stop = (): void => {
    if (current === null) return;
    const wasHeard = player.playing;
    player.stop();
    // What was stopped before it was heard has nothing to end by itself.
    if (!wasHeard) end();
  };

  /** Where the phrase that plays was edited, its new text is heard after a moment of rest; until then what sounds is the old one. */
  const takeUpEdit = (): void => {
    if (current === null || indexNow() !== null) return;
    const { uri, phrases } = host.shown();
    const { name } = current.wish.phrase;
    const index = phrases.findIndex((phrase) => phrase.name === name && phrase.broken === null && !phrase.unfinished);
    if (current.wish.uri !== uri || index < 0) return;
    clearTimeout(renewing);
    const mine = current;
    renewing = window.setTimeout(() => {
      const phrase = host.shown().phrases[index];
      if (current !== mine || phrase?.name !== name || phrase.broken !== null || phrase.unfinished) return;
      mine.wish = { ...mine.wish, phrase };
      void renew();
    }, REST);
  };

  /** Asks anew for what plays, and goes on from the note that sounds. */
  const renew = async (): Promise<void> => {
    const mine = current;
    if (mine === null || mine.take === null) return;
    const take = await takeFor(mine.wish);
    if (current !== mine || take === null || !isAudible(take)) return;
    const [note, pass] = [mine.note, Math.min(mine.pass ?? 0, take.passes.length - 1)];
    const onset = note === null ? null : (mine.wish.phrase.notes[note]?.onset ?? null);
    const step =
      take.cursor.find((one) => one.pass === pass && (onset === null || mine.wish.phrase.notes[one.note]!.onset >= onset)) ??
      take.cursor[0];
    mine.take = take;
    if (!(await player.play(take, mine.wish.repeat, note === null ? 0 : (step?.at ?? 0))) || current !== mine || note === null) return;
    mine.pass = pass;
    showPass(take, take.passes[pass]!, pass);
  };

  return {
    async start(wish) {
      stop();
      const mine: Current = { wish, take: null, note: null, pass: null };
      current = mine;
      host.onPlaying(wish.repeat);
      host.showSounding(soundingWords(wish.phrase, null));
      host.post({ type: 'playing', isPlaying: true });
      const take = await takeFor(wish);
      if (current !== mine) return;
      if (take === null || !isAudible(take)) {
        end();
        return host.say(
          take === null ? 'The sound could not be made. Try again; if it stays so, the output says why.' : 'There is nothing to play here.',
        );
      }
      mine.take = take;
      applyLevels();
      host.page()?.prepare(take.pictures.map(({ musicXml }) => ({ musicXml, notes: wish.phrase.notes })));
      if (!(await player.play(take, wish.repeat))) return;
      // Not before: a page that is busy with the take would make the way seem long.
      clearInterval(trying);
      trying = window.setInterval(ping, TRIED_EVERY);
      if (take.countIn > 0) host.say('Count-in');
    },
    stop,
    isPlaying: () => current !== null,
    subject: () => (current === null ? null : { uri: current.wish.uri, phrase: current.wish.phrase }),
    change(changed) {
      if (current === null) return;
      current.wish = { ...current.wish, ...changed };
      host.onPlaying(current.wish.repeat);
      void renew();
    },
    follow() {
      takeUpEdit();
      showKey();
      showNote();
    },
    rename(files) {
      if (current !== null) current.wish = { ...current.wish, uri: renamed(current.wish.uri, files) };
    },
    applyLevels,
    answer(ask, take) {
      answers.get(ask)?.(take);
      answers.delete(ask);
    },
    pong(sent) {
      const trip = performance.now() - sent;
      showObservers(TRIP_MARK, { detail: { sent, took: trip } });
      trips.push(Math.min(LONGEST_TRIP, trip));
      if (trips.length > TRIPS) trips.shift();
    },
  };
}

/** A mark that is observed and not kept: they would pile up in a loop that runs for an hour. */
function showObservers(mark: string, options: PerformanceMarkOptions): void {
  performance.mark(mark, options);
  performance.clearMarks(mark);
}

/**
 * What a quarter of the last ways to the extension and back kept to; 0 before the first. Not the middle one: a stall holds up several at a
 * time, and says nothing of those after it, which would be told too early.
 */
function expectedTrip(trips: readonly number[]): number {
  return [...trips].sort((a, b) => a - b)[Math.floor(trips.length / 4)] ?? 0;
}

/** Clicks alone are nothing to play. */
function isAudible({ sounds }: PlayedTake): boolean {
  return sounds.some(({ voice }) => voice !== 'click');
}

function passWords({ passes }: PlayedTake, pass: Pass, index: number): string {
  const tempo = `${Math.round(pass.tempo)} beats a minute`;
  if (passes.length === 1) return tempo;
  return `${index + 1} of ${passes.length}: ${passes.some(({ shift }) => shift !== 0) ? keyWords(pass) : tempo}`;
}

function keyWords({ tonic, shift }: Pick<Pass, 'tonic' | 'shift'>): string {
  return tonic === null ? `${Math.abs(shift)} half steps ${shift < 0 ? 'down' : 'up'}` : `in ${tonic}`;
}
