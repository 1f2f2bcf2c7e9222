/** Number the notes: a box under each, for its degree. */
import { pictureData } from '../handout/picture-data';
import type { Make } from './exercise';

export const numberNotes: Make = ({ placed, reading }) => {
  if (reading.notes.every(({ placement }) => placement === null)) return null;
  const data = pictureData(reading, []);
  return {
    kind: 'number-notes',
    phrase: placed.phrase.name,
    prompt: 'Write the degree of each note in its box.',
    answer: '',
    asked: [{ reading, data, options: { degrees: false, devices: false, boxes: 'blank' } }],
    answered: [{ reading, data, options: { degrees: false, devices: false, boxes: 'filled' } }],
  };
};
