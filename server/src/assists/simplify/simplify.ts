import { devicesAndPassingTones } from '../../analysis/devices/read';
import { deviceName } from '../../explain/device-words';
import { formatNoteName } from '../../theory/pitch';
import { tried, type Assist } from '../assist';
import { lineText } from '../writing/kept-bars';
import { isWhole, replacing } from '../writing/whole-phrase';
import { adornment, without } from './reduction';

export const simplify: Assist = {
  id: 'simplify',
  kind: 'refactor.rewrite.simplify',
  what: 'Takes one device out of a line; what it adorns stays, and the note before is held in its place.',
  offers(context) {
    const { reading, note } = context;
    const { phrase } = reading;
    if (note === null || !isWhole(phrase)) return [];
    const here = devicesAndPassingTones(reading).filter((device) => device.notes.includes(note) || device.target === note);
    return here.flatMap((device) => {
      const dropped = adornment(device, phrase.notes);
      if (dropped === null) return [];
      const named = `without the ${deviceName(device.kind)}`;
      const names = dropped.map((one) => formatNoteName(phrase.notes[one]!.pitch)).join('-');
      const title = `Take out the ${deviceName(device.kind)} ${names}`;
      return tried(context, { device: named, repairs: null }, () =>
        replacing(context, lineText(context, without(reading, new Set(dropped))), title).map((offer) => ({ ...offer, device: named })),
      );
    });
  },
};
