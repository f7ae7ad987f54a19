import { boardFault, complaintsOf, placedAtParts, saidAtBoard, sortComplaints } from '#notebook/runtime/issues.ts';
import { describe, expect, test } from 'vitest';

const at = (where: string) => ({ where, message: `about ${where}` });

describe('complaintsOf', () => {
  const told = (message: string) =>
    complaintsOf({ kind: 'reading', ok: false, error: { message, where: 'page[5]' } }).map((each) => each.message);

  test('leaves out which cell of the file a message is about: it stands at that cell', () => {
    expect(
      told('page[5] (numbers): take.width: width(output) must name a net of the board: out; got "output".'),
    ).toEqual(['take.width: width(output) must name a net of the board: out; got "output".']);
    expect(told('page[5]: id must be a letter followed by letters; got "my numbers".')).toEqual([
      'id must be a letter followed by letters; got "my numbers".',
    ]);
    expect(told('page[0].take must hold no field with a reserved name; got "__proto__".')).toEqual([
      'take must hold no field with a reserved name; got "__proto__".',
    ]);
  });

  test('keeps a message about a board as it is', () => {
    const message = 'boards.lamp.R1: resistance must be a resistance; got "x".';
    expect(told(message)).toEqual([message]);
  });
});

describe('saidAtBoard', () => {
  test('leaves out the place of the board in the file where a message stands at that board', () => {
    expect(saidAtBoard('boards.lamp.R1: b must be joined to some other part; got net x.', 'lamp')).toBe(
      'R1: b must be joined to some other part; got net x.',
    );
    expect(saidAtBoard('boards.lamp.U1: pins.threshold must be on a net that is held; got net x.', 'lamp')).toBe(
      'U1: threshold must be on a net that is held; got net x.',
    );
  });

  test('keeps the place of another board, and what is no place', () => {
    const other = 'boards.bell.R1: b must be joined to some other part; got net x.';
    expect(saidAtBoard(other, 'lamp')).toBe(other);
    expect(saidAtBoard('C1 is reversed.', 'lamp')).toBe('C1 is reversed.');
  });
});

describe('sortComplaints', () => {
  test('puts a complaint at the field its place ends with', () => {
    const { atField, others } = sortComplaints([at('boards.lamp.R1.resistance')], ['R1', 'R1.resistance', 'R1.rating']);
    expect([...atField.keys()]).toEqual(['R1.resistance']);
    expect(others).toEqual([]);
  });

  test('does not take R1 for R10, nor resistance for a longer word', () => {
    const { others } = sortComplaints([at('boards.lamp.R10.resistance')], ['R1', 'R1.resistance']);
    expect(others).toHaveLength(1);
  });

  test('a complaint about the inside of a field goes to the field', () => {
    const { atField } = sortComplaints([at('boards.lamp.S1.presses[0].at')], ['S1', 'S1.presses']);
    expect([...atField.keys()]).toEqual(['S1.presses']);
  });

  test('joins several complaints about one field and leaves what belongs nowhere', () => {
    const { atField, others } = sortComplaints(
      [at('page.look.until'), at('page.look.until'), at('page.look')],
      ['until'],
    );
    expect(atField.get('until')).toBe('about page.look.until about page.look.until');
    expect(others).toEqual([at('page.look')]);
  });

  test('leaves the place out of a message that stands at its field', () => {
    const message = 'boards.lamp.R1: resistance must be a resistance; got "x". Write for example 4K7.';
    const { atField } = sortComplaints([{ where: 'boards.lamp.R1.resistance', message }], ['R1.resistance']);
    expect(atField.get('R1.resistance')).toBe('resistance must be a resistance; got "x". Write for example 4K7.');
  });

  test('says what is wrong with a reading at its row by the name of the row alone', () => {
    const complaints = [
      { where: 'page[1].take.width', message: 'take.width: width(uot) must name a net of the board: out; got "uot".' },
      { where: 'page[1].take.high', message: 'take.high must be one of the readings width; got "widht".' },
      { where: 'page[1].vary.value', message: 'vary.value must name a part of the board (R1); got "R7".' },
    ];
    const { atField } = sortComplaints(complaints, ['take.width', 'take.high', 'vary.value']);
    expect(atField.get('take.width')).toBe('width(uot) must name a net of the board: out; got "uot".');
    expect(atField.get('take.high')).toBe('high must be one of the readings width; got "widht".');
    expect(atField.get('vary.value')).toBe('value must name a part of the board (R1); got "R7".');
  });

  test('takes a complaint to the value it names where its place does not', () => {
    const complaint = { where: 'boards.lamp.values.R1', message: 'R1 must ...', value: 'R1.resistance' };
    expect([...sortComplaints([complaint], ['R1.resistance']).atField.keys()]).toEqual(['R1.resistance']);
  });
});

describe('placedAtParts', () => {
  const parts = [
    { name: 'R1', kind: 'resistor' },
    { name: 'G1', kind: 'signal' },
  ];

  test('a value of a ready board is placed at the part it is a value of', () => {
    const complaints = [
      at('boards.lamp.values.R1'),
      at('boards.lamp.values["G1.wave.period"]'),
      at('boards.lamp.ready'),
    ];
    expect(placedAtParts(complaints, 'lamp', parts).map(({ where }) => where)).toEqual([
      'R1.resistance',
      'G1.wave.period',
      'boards.lamp.ready',
    ]);
  });
});

test('placedAtParts() places a complaint about a field of a whole wave at that field', () => {
  const message = 'boards.counter.G1: wave.frequency must be a frequency; got "5 V", a voltage.';
  const complaint = { where: 'boards.counter.values["G1.wave"]', message };
  expect(placedAtParts([complaint], 'counter', [{ name: 'G1', kind: 'signal' }])).toEqual([
    { where: 'G1.wave.frequency', message: message.replace('boards.counter.', '') },
  ]);
});

test('boardFault tells a board that cannot be used from a link of boards, and says nothing of the rest', () => {
  const told = (...places: string[]) => boardFault(places.map((where) => ({ where, message: `${where} must …` })));
  expect(told('links[0].b')).toContain('stopped: a link between boards cannot be used');
  expect(told('boards.lamp.R1')).toBe('the board has a value that cannot be used');
  expect(told('links[0].b', 'boards.lamp.R1')).toBe('the board has a value that cannot be used');
  expect(told('page[2].until')).toBeUndefined();
});
