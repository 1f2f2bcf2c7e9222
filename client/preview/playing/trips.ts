/** How long the way to the extension and back takes, in milliseconds. */
import type { FromView } from '../../src/score/messages';
import { showObservers, TRIP_MARK } from './observers';

export interface Trips {
  /** What the next way is expected to take. */
  expected(): number;
  /** What was sent then has come back. */
  back(sent: number): void;
  /** Tries the way now and then, besides the messages to the text. */
  begin(): void;
  stop(): void;
}

/** A longer way is a hitch, not the rule. */
const LONGEST_TRIP = 100;
/** From how many ways it is told what the next will take. */
const TRIPS = 15;
/** How often one is tried. */
const TRIED_EVERY = 200;

export function createTrips(post: (message: FromView) => void): Trips {
  let trips: readonly number[] = [];
  let trying: ReturnType<typeof setInterval> | undefined;
  const stop = (): void => clearInterval(trying);
  return {
    expected: () => expectedTrip(trips),
    back(sent) {
      const took = performance.now() - sent;
      showObservers(TRIP_MARK, { detail: { sent, took } });
      trips = withTrip(trips, took);
    },
    begin() {
      stop();
      trying = setInterval(() => post({ type: 'ping', sent: performance.now() }), TRIED_EVERY);
    },
    stop,
  };
}

/** The last ways with one more. */
export function withTrip(trips: readonly number[], took: number): readonly number[] {
  return [...trips, Math.min(LONGEST_TRIP, took)].slice(-TRIPS);
}

/**
 * What a quarter of the last ways kept to; 0 before the first. One alone may have met a busy moment. Not the middle one: a stall holds up
 * several at a time, and says nothing of those after it, which would be told too early.
 */
export function expectedTrip(trips: readonly number[]): number {
  return [...trips].sort((a, b) => a - b)[Math.floor(trips.length / 4)] ?? 0;
}
