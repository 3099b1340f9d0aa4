import { encode } from 'cborg';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeMessage, encodeMessage, type Wave } from '../../shared/protocol/messages.ts';
import { toWire } from '../../shared/protocol/wire.ts';

const wave = (data: Int16Array | Int32Array): Wave => ({
  v: 1,
  boot: 3,
  seq: 17,
  first: 2 ** 40,
  time: 1_764_000_000_000_000,
  n: data.length / 2,
  lost: 0,
  flags: 0,
  data,
});

/** The payload where a packet would have it: at any offset of a bigger buffer. */
function at(offset: number, payload: Uint8Array): Uint8Array {
  const packet = new Uint8Array(offset + payload.length + 3).fill(0xff);
  packet.set(payload, offset);
  return packet.subarray(offset, offset + payload.length);
}

describe('messages', () => {
  it('brings counts back bit by bit from any byte offset, as its own copy', () => {
    fc.assert(
      fc.property(
        fc.int16Array({ minLength: 1, maxLength: 64 }),
        fc.nat(7),
        fc.boolean(),
        (half, offset, wide) => {
          const counts = (wide ? Int32Array : Int16Array).from([...half, ...half]);
          const payload = at(offset, encodeMessage('wave', wave(counts)));
          const decoded = decodeMessage('wave', payload);
          payload.fill(0);
          expect(decoded).toEqual({ message: wave(counts) });
        },
      ),
    );
  });

  it('never throws at bytes of any kind', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => {
        expect(decodeMessage('wave', bytes)).toHaveProperty('fault');
      }),
    );
  });

  it('never throws at a sound payload with one byte changed', () => {
    const sound = encodeMessage('wave', wave(new Int16Array(8)));
    fc.assert(
      fc.property(fc.nat(sound.length - 1), fc.nat(255), (place, byte) => {
        const bytes = sound.slice();
        bytes[place] = byte;
        const decoded = decodeMessage('wave', bytes);
        if ('message' in decoded) expect(decoded.message.data.length % decoded.message.n).toBe(0);
      }),
    );
  });

  it.each([
    ['a map of another kind', { v: 1, seq: 2 }, 'wrong-shape', 'wave'],
    ['another version', { ...wave(new Int16Array(4)), v: 2 }, 'wrong-shape', '/v'],
    [
      'a float data column',
      { ...wave(new Int16Array(4)), data: new Float32Array(4) },
      'wrong-shape',
      'sint16',
    ],
    ['fewer counts than it says', { ...wave(new Int16Array(4)), n: 4 }, 'wrong-shape', 'n = 4'],
    [
      'more frames than a block may have',
      { ...wave(new Int16Array(2050)), n: 1025 },
      'wrong-shape',
      '/n',
    ],
    ['a fraction as seq', { ...wave(new Int16Array(4)), seq: 1.5 }, 'wrong-shape', '/seq'],
  ])('refuses %s and says where', (_name, value, fault, says) => {
    const decoded = decodeMessage('wave', toWire(value));
    expect(decoded).toMatchObject({ fault, says: expect.stringContaining(says) });
  });

  it('refuses what is longer than a payload may be', () => {
    const decoded = decodeMessage('wave', new Uint8Array(40_000));
    expect(decoded).toMatchObject({ fault: 'too-long' });
  });

  it('refuses a key told twice: two readers could take different values', () => {
    const once = encode({ v: 1, seq: 5 });
    const twice = new Uint8Array([0xa3, ...once.subarray(1), ...encode('v'), 1]);
    expect(decodeMessage('keep', twice)).toMatchObject({ fault: 'no-cbor' });
  });

  it('takes both shapes of state: the full one and the will', () => {
    expect(decodeMessage('state', toWire({ v: 1, state: 'lost' }))).toEqual({
      message: { v: 1, state: 'lost' },
    });
    expect(decodeMessage('state', toWire({ v: 1, state: 'online' }))).toHaveProperty('fault');
  });

  it('refuses rows whose columns differ in length', () => {
    const column = () => new Float32Array(2);
    const rows = {
      v: 1,
      boot: 1,
      first: 0,
      time: 1,
      n: 2,
      end: Float64Array.of(85, 170),
      hz: column(),
      volts: [column()],
      amps: [column()],
      watts: [new Float32Array(3)],
    };
    expect(decodeMessage('rows', toWire(rows))).toMatchObject({ fault: 'wrong-shape' });
    const even = { ...rows, watts: [column()] };
    expect(decodeMessage('rows', toWire(even))).toEqual({ message: even });
  });
});
