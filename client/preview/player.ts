/**
 * Plays a take and tells what is heard when. The audio clock decides: sounds are put on it a little ahead, and what is shown follows
 * it, later by the time the sound takes to the ear.
 */
import { Context } from 'tone/build/esm/core/context/Context.js';
import { setContext } from 'tone/build/esm/core/Global.js';
import 'tone/build/esm/core/clock/Transport.js';
import 'tone/build/esm/core/util/Draw.js';
import type { CursorStep, Pass, PianoVoice, Sound, Take, Voice } from '../src/score/messages';
import { DEFAULT_OPTIONS } from '../src/score/messages';
import { createInstruments, HUSH, LIMITER_DELAY, type Instruments } from './instruments';
import type { Piano } from './piano';
import type { Repeat } from './playing/state';

export type { Repeat };

export interface PlayerEvents {
  /** Exactly when the note is heard (audio clock plus output latency); null when the line stops sounding (stop or end). For the score. */
  onStep(step: CursorStep | null): void;
  /** Ahead of a note by up to the look-ahead: `inMilliseconds` until it is heard (for a listener further away that must be told early). */
  onAhead(step: CursorStep, inMilliseconds: number): void;
  /** A new pass begins to be heard (also the first; again at each round of a loop). */
  onPass(pass: Pass, index: number): void;
  /** The take ended by itself or was stopped; one that another takes the place of has no end to tell. */
  onEnd(): void;
  /** Sound is blocked until the user clicks in the page. */
  onBlocked(): void;
}

export interface Player {
  /**
   * Starts a take from its beginning; one that plays is stopped first. `repeat`: 'none', 'all' (loops from the end of the count-in to
   * the end) or 'last' (loops the last pass). `from`: seconds of the take that are left out at first. Resolves when it has started, false if sound is blocked or another call came in between.
   */
  play(take: Take, repeat: Repeat, from?: number): Promise<boolean>;
  stop(): void;
  readonly playing: boolean;
  /** 0 to 1 per voice; takes effect at once, also while playing, without clicks. */
  setLevel(voice: Voice, level: number): void;
  /** The line is silent but its cursor goes on. */
  muteLine(muted: boolean): void;
  /** Which voices the piano plays, from the next sound on. It is loaded when something plays. */
  setPiano(voices: readonly PianoVoice[]): void;
}

/** Marks of the user timing at which a note of the line is shown, so that the lag can be measured from outside. */
export const SOUNDING_MARK = 'phrasewright:sounding';

/** Seconds that sounds are put on the clock ahead: what the page may be busy for without a sound being late. */
const LOOK_AHEAD = 0.15;

/** A take starts this much after what was struck before it is gone. */
const LEAD = 0.02;

/** Seconds a take goes on after its last sound is let go, so that it rings out. */
const RING = 0.5;

/** Sounds that are later than this are left out: after a stall they would all come at once. */
const TOO_LATE = 0.1;

/** Milliseconds to wait for the audio to run: some hosts never answer before the user has clicked. */
const PATIENCE = 400;

/**
 * Ticks a second. A power of 2, so that whole ticks stay whole when the transport turns them into seconds and back; what is between
 * two ticks it adds again.
 */
const TICKS = 2048;

/** Seconds added before a time is cut to its tick, so that one that is a hair below a tick belongs to it: a loop starts at a tick. */
const HAIR = 1e-7;

interface Rig {
  readonly native: AudioContext;
  readonly context: Context;
  readonly instruments: Instruments;
}

/** `loadPiano` answers null where there is none to be had. */
export function createPlayer(events: PlayerEvents, loadPiano: () => Promise<Piano | null>): Player {
  const levels: Record<Voice, number> = { ...DEFAULT_OPTIONS.levels };
  let lineMuted = false;
  let onPiano: readonly PianoVoice[] = [];
  let native: AudioContext | null = null;
  let rig: Rig | null = null;
  let playing = false;
  // Whether the last step that was told is a note.
  let sounding = false;
  // Counts what was asked for: an answer to an older question is dropped.
  let turn = 0;

  function applyLevel(voice: Voice): void {
    rig?.instruments.setLevel(voice, voice === 'line' && lineMuted ? 0 : levels[voice]);
  }

  /** A piano that nobody asked for is not loaded. */
  async function applyPiano(): Promise<void> {
    const piano = onPiano.length === 0 ? null : await loadPiano();
    rig?.instruments.setPiano(piano, onPiano);
  }

  function tellStep(step: CursorStep | null): void {
    if (step === null && !sounding) return;
    sounding = step !== null;
    events.onStep(step);
  }

  /** What plays, once sound may run; null: it is blocked. Before the first play there is no audio context: a score opens no device. */
  async function ready(): Promise<Rig | null> {
    native ??= newContext();
    if (native === null || !(await runs(native))) return null;
    if (rig === null) {
      rig = createRig(native);
      for (const voice of Object.keys(levels) as Voice[]) applyLevel(voice);
    }
    await applyPiano();
    return rig;
  }

  function halt(): void {
    if (!playing || rig === null) return;
    playing = false;
    turn += 1;
    const { context, instruments } = rig;
    context.transport.stop(context.now());
    context.transport.cancel(0);
    context.draw.cancel(0);
    instruments.hush();
    tellStep(null);
  }

  function end(): void {
    if (!playing) return;
    halt();
    events.onEnd();
  }

  async function play(take: Take, repeat: Repeat, from = 0): Promise<boolean> {
    halt();
    turn += 1;
    const mine = turn;
    const found = await ready();
    if (mine !== turn) return false;
    if (found === null) {
      events.onBlocked();
      return false;
    }
    playing = true;
    performance.clearMarks(SOUNDING_MARK);
    const start = schedule(found, take, repeat, () => mine === turn, end, { ...events, onStep: tellStep });
    found.instruments.open(start);
    found.context.transport.start(start, from);
    return true;
  }

  return {
    play,
    stop: () => {
      turn += 1;
      end();
    },
    get playing() {
      return playing;
    },
    setLevel: (voice, level) => {
      levels[voice] = level;
      applyLevel(voice);
    },
    muteLine: (muted) => {
      lineMuted = muted;
      applyLevel('line');
    },
    setPiano: (voices) => {
      onPiano = voices;
      if (playing) void applyPiano();
    },
  };
}

/** The page's own context, since the library's stand-in does not tell the latency. Null: without a sound device some hosts make none. */
function newContext(): AudioContext | null {
  try {
    return new AudioContext({ latencyHint: 'balanced' });
  } catch {
    return null;
  }
}

/** Waits for the context to run, but not for long. What is asked of a blocked one it does when the user clicks. */
async function runs(native: AudioContext): Promise<boolean> {
  if (native.state === 'running') return true;
  await new Promise<void>((resolve) => {
    const patience = setTimeout(resolve, PATIENCE);
    native.resume().then(
      () => {
        clearTimeout(patience);
        resolve();
      },
      () => undefined,
    );
  });
  return stateOf(native) === 'running';
}

/** A function, since a state that was asked before counts as known. */
function stateOf(native: AudioContext): AudioContextState {
  return native.state;
}

function createRig(native: AudioContext): Rig {
  const context = new Context({
    context: native as unknown as Context['rawContext'],
    // The other source is a worker made from a blob, which the page's policy forbids.
    clockSource: 'timeout',
    lookAhead: LOOK_AHEAD,
  });
  setContext(context);
  context.transport.PPQ = TICKS;
  context.transport.bpm.value = 60;
  // A page that was held up still tells all, in order, as soon as it can: a pass that was never told would leave its key unseen.
  context.draw.expiration = Infinity;
  return { native, context, instruments: createInstruments(context) };
}

/** Puts a take on the transport; the time of the audio clock at which it is to start. */
function schedule(rig: Rig, take: Take, repeat: Repeat, current: () => boolean, end: () => void, events: PlayerEvents): number {
  const { context, instruments, native } = rig;
  const { transport, draw } = context;

  /** Does something when what stands at `time` is heard. */
  function whenHeard(time: number, action: (due: number) => void): void {
    const act = () => {
      if (current()) action(dueAt(native, time));
    };
    // Nothing is drawn on a page that is hidden.
    if (document.hidden) setTimeout(act, dueAt(native, time) - performance.now());
    else draw.schedule(act, time + clockOf(native).latency);
  }

  // First passes, then steps: in this order they are told where both begin at once.
  take.passes.forEach((pass, index) => {
    transport.schedule(
      (time) =>
        whenHeard(time, () => {
          // They would pile up in a loop that runs for an hour.
          performance.clearMarks(SOUNDING_MARK);
          events.onPass(pass, index);
        }),
      pass.at + HAIR,
    );
  });
  for (const step of take.cursor) {
    transport.schedule((time) => {
      events.onAhead(step, dueAt(native, time) - performance.now());
      whenHeard(time, (due) => {
        performance.mark(SOUNDING_MARK, { detail: { note: step.note, pass: step.pass, due } });
        events.onStep(step);
      });
    }, step.at + HAIR);
  }
  for (const sound of take.sounds) {
    transport.schedule((time) => {
      const now = context.currentTime;
      if (time >= now - TOO_LATE) instruments.strike(sound, Math.max(time, now));
    }, sound.at + HAIR);
  }

  const loop = loopOf(take, repeat);
  transport.loop = loop !== null;
  if (loop !== null) {
    const from = Math.floor((loop.from + HAIR) * TICKS);
    transport.setLoopPoints(from / TICKS, (from + Math.max(1, Math.round((loop.until - loop.from) * TICKS))) / TICKS);
  } else {
    const lineEnd = Math.max(...take.cursor.map(({ until }) => until));
    // Without a line there is nothing that stops.
    if (take.cursor.length > 0) transport.schedule((time) => whenHeard(time, () => events.onStep(null)), lineEnd + HAIR);
    const soundEnd = take.sounds.reduce((latest, sound) => Math.max(latest, releasedAt(sound)), take.length);
    // Not by the drawing, which waits while the page is hidden.
    transport.schedule((time) => {
      setTimeout(() => {
        if (current()) end();
      }, dueAt(native, time) - performance.now());
    }, soundEnd + RING);
  }
  return context.currentTime + Math.max(LOOK_AHEAD, HUSH) + LEAD;
}

function loopOf(take: Take, repeat: Repeat): { readonly from: number; readonly until: number } | null {
  const last = take.passes.at(-1);
  const loop = repeat === 'all' ? { from: take.countIn, until: take.length } : { from: last?.at ?? 0, until: last?.until ?? 0 };
  // A loop without length would never get on.
  return repeat === 'none' || loop.until <= loop.from ? null : loop;
}

function releasedAt(sound: Sound): number {
  return sound.at + sound.length;
}

/** When what stands at `time` is heard, by the page's clock. */
function dueAt(native: AudioContext, time: number): number {
  const { contextTime, performanceTime } = clockOf(native);
  return performanceTime + (time + LIMITER_DELAY - contextTime) * 1000;
}

function clockOf(native: AudioContext): { readonly contextTime: number; readonly performanceTime: number; readonly latency: number } {
  const now = performance.now();
  const { contextTime = 0, performanceTime = 0 } = native.getOutputTimestamp?.() ?? {};
  const told = contextTime > 0 && performanceTime > 0;
  const output = native.outputLatency > 0 ? native.outputLatency : (native.baseLatency ?? 0);
  const latency = output + LIMITER_DELAY;
  if (told) return { contextTime, performanceTime, latency };
  // What is put on the clock now leaves the device after the latency.
  return { contextTime: native.currentTime, performanceTime: now + output * 1000, latency };
}
