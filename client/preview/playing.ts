/** What plays: asks for the take, follows it through the score and the text, and keeps to its phrase whatever is shown meanwhile. */
import type { PlayedTake, Renamed } from '../src/score/messages';
import { createPlayer, type Player } from './player';
import type { PlayingHost } from './playing/host';
import { createRenewing } from './playing/renewing';
import { createShowing } from './playing/showing';
import type { Current, PlayingState, Wish } from './playing/state';
import { createTakes, isAudible } from './playing/takes';
import { createTelling } from './playing/telling';
import { createTrips } from './playing/trips';
import { renamed, soundingWords, type Subject } from './subject';

export type { PlayingHost, Wish };

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

export function createPlaying(host: PlayingHost): Playing {
  const state: PlayingState = { current: null };
  const trips = createTrips(host.post);
  const takes = createTakes(host);
  const showing = createShowing(state, host);
  const player = createPlayer(
    {
      onStep(step) {
        if (state.current !== null) state.current.note = step?.note ?? null;
        showing.note();
      },
      onAhead: createTelling(state, host, trips),
      onPass(pass, index) {
        if (state.current === null || state.current.take === null) return;
        state.current.pass = index;
        showing.pass(pass);
      },
      onEnd: () => end(),
      onBlocked() {
        end();
        host.say('Sound waits for a click in this page: choose Play.');
      },
    },
    () => host.loadPiano(),
  );
  const renewing = createRenewing(state, { takes, play: player.play, showPass: showing.pass, shown: host.shown });
  const applyLevels = (): void => setLevels(player, host);

  const end = (): void => {
    renewing.cancel();
    trips.stop();
    state.current = null;
    showing.end();
    host.post({ type: 'sounding', place: null, sent: performance.now() });
    host.onPlaying(null);
    host.post({ type: 'playing', isPlaying: false });
    host.say('');
    host.showSounding('');
  };

  const stop = (): void => {
    if (state.current === null) return;
    const wasHeard = player.playing;
    player.stop();
    // What was stopped before it was heard has nothing to end by itself.
    if (!wasHeard) end();
  };

  return {
    async start(wish) {
      stop();
      const mine: Current = { wish, take: null, note: null, pass: null };
      state.current = mine;
      host.onPlaying(wish.repeat);
      host.showSounding(soundingWords(wish.phrase, null));
      host.post({ type: 'playing', isPlaying: true });
      const take = await takes.of(wish);
      if (state.current !== mine) return;
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
      trips.begin();
      if (take.countIn > 0) host.say('Count-in');
    },
    stop,
    isPlaying: () => state.current !== null,
    subject: () => (state.current === null ? null : { uri: state.current.wish.uri, phrase: state.current.wish.phrase }),
    change(changed) {
      if (state.current === null) return;
      state.current.wish = { ...state.current.wish, ...changed };
      host.onPlaying(state.current.wish.repeat);
      void renewing.now();
    },
    follow() {
      renewing.takeUpEdit();
      showing.key();
      showing.note();
    },
    rename(files) {
      if (state.current !== null) state.current.wish = { ...state.current.wish, uri: renamed(state.current.wish.uri, files) };
    },
    applyLevels,
    answer: takes.answer,
    pong: trips.back,
  };
}

function setLevels(player: Pick<Player, 'setLevel' | 'muteLine' | 'setPiano'>, { options }: Pick<PlayingHost, 'options'>): void {
  const { levels, lineMuted, piano } = options();
  for (const voice of ['line', 'chords', 'bass', 'click'] as const) player.setLevel(voice, levels[voice]);
  player.muteLine(lineMuted);
  player.setPiano(piano);
}
