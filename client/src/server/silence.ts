/** Whether a server that is there still answers. A rule without a clock or an editor of its own; all times are milliseconds of the caller's clock. */

/** So long nothing may come before the server is asked something light; and as long again before it is taken to hang. */
export const PATIENCE = 10_000;

/** A look that comes so much too late says that the whole machine stood still (it slept, say), and the server with it. */
export const STANDSTILL = 5000;

export interface Silence {
  /** How many questions wait for their answer. */
  readonly open: number;
  /** When something came last, or the wait began. */
  readonly since: number;
  readonly stage: 'patient' | 'asked' | 'told';
}

/** `sent`: the server is asked something; `answered`: be it with an error; `time`: nothing but time went by. */
export type SilenceEvent = 'sent' | 'answered' | 'time';

/** Of a server that has just been started. */
export const NOTHING_ASKED: Silence = { open: 0, since: 0, stage: 'patient' };

export interface AfterEvent {
  readonly silence: Silence;
  /** `ask`: something that any server that lives answers at once; `tell`: say that this one does not. */
  readonly does: 'nothing' | 'ask' | 'tell';
}

export function afterEvent(silence: Silence, event: SilenceEvent, now: number): AfterEvent {
  switch (event) {
    case 'sent':
      return { silence: { ...silence, open: silence.open + 1, since: silence.open === 0 ? now : silence.since }, does: 'nothing' };
    // Whatever it is an answer to: who answers does not hang.
    case 'answered':
      return { silence: { open: silence.open - 1, since: now, stage: 'patient' }, does: 'nothing' };
    case 'time':
      return looked(silence, now);
  }
}

/** When to look again though nothing happens; null where nothing is waited for, or all is said. */
export function wakeAt({ open, since, stage }: Silence): number | null {
  return open === 0 || stage === 'told' ? null : since + PATIENCE;
}

function looked(silence: Silence, now: number): AfterEvent {
  const due = wakeAt(silence);
  if (due === null || now < due) return { silence, does: 'nothing' };
  if (now >= due + STANDSTILL) return { silence: { ...silence, since: now }, does: 'nothing' };
  return silence.stage === 'patient'
    ? { silence: { ...silence, since: now, stage: 'asked' }, does: 'ask' }
    : { silence: { ...silence, stage: 'told' }, does: 'tell' };
}
