/** Makes the sound of a file, and hands it to the extension. */
import type { FromView, Track } from '../../src/score/messages';
import type { Piano } from '../piano';
import { renderTrack } from '../render';

export async function render(
  { ask, track }: { readonly ask: number; readonly track: Track },
  loadPiano: () => Promise<Piano | null>,
  post: (message: FromView) => void,
): Promise<void> {
  try {
    const piano = track.piano.length === 0 ? null : await loadPiano();
    const { samples, rate } = await renderTrack(track, piano);
    post({ type: 'rendered', ask, made: { bytes: samples.buffer, rate, lacksPiano: track.piano.length > 0 && piano === null } });
  } catch (error) {
    post({ type: 'rendered', ask, made: error instanceof Error ? error.message : String(error) });
  }
}
