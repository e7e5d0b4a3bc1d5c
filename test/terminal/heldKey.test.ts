import { describe, expect, it } from 'vitest';
import { HeldKey } from '../../src/terminal/heldKey.ts';

describe('a key that is held', () => {
  function keyboard() {
    let now = 0;
    const held = new HeldKey(() => now);
    const press = (key: string, after: number) => {
      now += after;
      return !held.swallows(key);
    };
    return { held, press };
  }

  // Keyboards begin to repeat after 250 to 660 ms and then repeat every 30 ms or so: common practice, no source.
  it.each([250, 400, 660])('answers one question only when it begins to repeat after %d ms', (delay) => {
    const { held, press } = keyboard();
    held.newQuestion();
    expect(press('1', 2000)).toBe(true);
    held.newQuestion();
    const answered = [press('1', delay), ...Array.from({ length: 60 }, () => press('1', 33))];
    expect(answered).not.toContain(true);
    expect(press('1', 900)).toBe(true);
  });

  it('lets a quick hand go on with another key', () => {
    const { held, press } = keyboard();
    held.newQuestion();
    expect(press('1', 2000)).toBe(true);
    held.newQuestion();
    expect(press('2', 300)).toBe(true);
  });

  it('passes over what was typed ahead in one burst', () => {
    const { held, press } = keyboard();
    held.newQuestion();
    expect(press('1', 2000)).toBe(true);
    held.newQuestion();
    expect(press('2', 5)).toBe(false);
  });

  it('does not slow down typing within one question', () => {
    const { held, press } = keyboard();
    held.newQuestion();
    expect([press('2', 2000), press('1', 60), press('0', 60), press('0', 60)]).toEqual([
      true,
      true,
      true,
      true,
    ]);
  });
});
