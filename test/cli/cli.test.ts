import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCulprint, scratchFolder } from './run.ts';

function caseFile(text: string): string {
  const file = join(scratchFolder('case'), 'case.yaml');
  writeFileSync(file, text);
  return file;
}

const stringing =
  'complaint: stringing\nfacts: {material: PA6, spool_open: weeks, nozzle_temperature: 260}\n';

describe('a whole case by script', () => {
  it('gives ranked causes with reasons, computed fixes and the next question as JSON', async () => {
    const { code, out, err } = await runCulprint(['diagnose', '--case', caseFile(stringing), '--json']);
    expect(err).toBe('');
    expect(code).toBe(0);
    const result = JSON.parse(out);
    expect(result.version).toBe(1);
    expect(result.causes[0].id).toBe('damp_filament');
    const sum = result.causes.reduce(
      (total: number, cause: { chance: number }) => total + cause.chance,
      result.otherChance,
    );
    expect(sum).toBeCloseTo(1, 9);
    expect(result.causes[0].reasons[0]).toMatchObject({
      text: expect.any(String),
      id: expect.any(String),
      decibans: expect.any(Number),
    });
    for (const fix of result.fixes) {
      expect(fix.seenWhenItWorked).not.toBe('');
      expect(fix.minutes.handsOn).toBeGreaterThanOrEqual(0);
    }
    const dry = result.fixes.find(
      (fix: { removes: string[]; unit: string | null }) =>
        fix.removes.includes('damp_filament') && fix.unit === 'degC',
    );
    // Nylon's drying range is 80 to 90 degC, an unmarked spool softens above 60 (common practice, no source).
    expect(Math.max(...[dry.to].flat())).toBeLessThanOrEqual(90);
    expect(dry.cautions.length).toBeGreaterThan(0);
    expect(result.nextQuestion).toMatchObject({
      id: expect.any(String),
      kind: expect.stringMatching(/fact|sign|symptom/),
      worthMinutes: expect.any(Number),
    });
  });

  it('can be driven to its end from what the program itself prints', async () => {
    const known = {
      complaint: 'lifted_corner',
      facts: {} as Record<string, unknown>,
      signs: {} as Record<string, unknown>,
      symptoms: {} as Record<string, unknown>,
    };
    const asked: string[] = [];
    for (let turn = 0; turn < 30; turn++) {
      const { code, out } = await runCulprint(['diagnose', '--case', '-', '--json'], {
        input: JSON.stringify(known),
      });
      expect(code).toBe(0);
      const next = JSON.parse(out).nextQuestion;
      if (next === null) break;
      expect(asked).not.toContain(next.id);
      asked.push(next.id);
      const value = next.answers.length > 0 ? next.answers[0].id : next.range[0];
      const part = next.kind === 'fact' ? known.facts : next.kind === 'sign' ? known.signs : known.symptoms;
      part[next.id] = value;
    }
    expect(asked.length).toBeGreaterThan(3);
    expect(asked.length).toBeLessThan(30);
  });

  it('takes the complaint from the only symptom, else from the words', async () => {
    const seen = await runCulprint(['diagnose', '--case', caseFile('symptoms: [stringing]\n'), '--json']);
    expect(JSON.parse(seen.out).complaint).toBe('stringing');
    const said = await runCulprint([
      'diagnose',
      '--case',
      caseFile('words: fine hairs between two posts\n'),
      '--json',
    ]);
    expect(JSON.parse(said.out).complaint).toBe('stringing');
  });

  it('prints the same as text, with one change and its numbers', async () => {
    const { code, out } = await runCulprint(['diagnose', '--case', caseFile(stringing)]);
    expect(code).toBe(0);
    for (const part of [
      'Most likely',
      'First change',
      'You will see:',
      'Caution:',
      'Expected to a good print',
    ])
      expect(out).toContain(part);
    expect(out).not.toContain('\u001b');
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
  });

  it('keeps to forty columns', async () => {
    const { out } = await runCulprint(['diagnose', '--case', caseFile(stringing), '--all'], {
      env: { COLUMNS: '40' },
    });
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(40);
  });
});

describe('same complaint, different facts, different first cause', () => {
  const first = async (text: string) => {
    const { out } = await runCulprint(['diagnose', '--case', caseFile(text), '--json']);
    return JSON.parse(out).causes[0].id;
  };

  it.each([
    ['stringing', '{material: PA6, spool_open: weeks}', 'damp_filament'],
    [
      'stringing',
      '{material: PLA, spool_open: sealed, spool_dried: yes, nozzle_temperature: 230}',
      'nozzle_too_hot',
    ],
    [
      'lifted_corner',
      '{material: ABS, enclosure: open, plate_cleaned: washed, bed_temperature: 100}',
      'air_too_cold',
    ],
    [
      'lifted_corner',
      '{material: PLA, plate_cleaned: untouched, enclosure: open, bed_temperature: 60}',
      'greasy_plate',
    ],
    ['curled_overhang', '{material: PLA, overhang_angle: 25, fan_percent: 100}', 'overhang_too_shallow'],
    ['curled_overhang', '{material: PLA, overhang_angle: 50, fan_percent: 0}', 'too_little_fan'],
  ])('%s with %s: %s', async (complaint, facts, cause) => {
    expect(await first(`complaint: ${complaint}\nfacts: ${facts}\n`)).toBe(cause);
  });
});

describe('danger', () => {
  it.each([
    ['complaint: smoke_or_burnt_smell\n'],
    ['complaint: stringing\nwords: hairs, and it smells burnt behind the machine\n'],
    ['words: there was smoke from the board\n'],
  ])('stops everything before any diagnosis: %s', async (text) => {
    const { code, out } = await runCulprint(['diagnose', '--case', caseFile(text)]);
    expect(code).toBe(0);
    expect(out).toMatch(/^STOP/);
    expect(out).not.toContain('Most likely');
    const json = await runCulprint(['diagnose', '--case', caseFile(text), '--json']);
    expect(JSON.parse(json.out)).toMatchObject({ stopNow: true });
  });

  it('is not seen where it is denied', async () => {
    const { out } = await runCulprint([
      'diagnose',
      '--case',
      caseFile('complaint: stringing\nwords: no smoke, just hairs\n'),
    ]);
    expect(out).toContain('Most likely');
  });
});

describe('answers by lines', () => {
  it('asks, explains, goes back and ends in a result', async () => {
    const answers = [
      'fine hairs between the towers',
      '1',
      '2',
      '1',
      'w',
      'l',
      'r',
      '1',
      'b',
      '1',
      ...Array.from({ length: 40 }, () => '?'),
    ];
    const { code, out, err } = await runCulprint(['--plain'], { input: answers.join('\n') });
    expect(out).toContain('Most likely');
    expect(code).toBe(0);
    expect(err).toMatch(/points? to/);
    expect(err).toContain('So far');
    expect(out + err).not.toContain('\u001b');
  });

  it('says so when the answers end too early, with 65', async () => {
    const { code, out, err } = await runCulprint(['--plain'], { input: '1\n' });
    expect(code).toBe(65);
    expect(out).toBe('');
    expect(err).toContain('ended');
  });

  it('stops by choice with the result so far', async () => {
    const { code, out } = await runCulprint(['--plain'], { input: 'hairs between posts\n1\n1\nq\n' });
    expect(code).toBe(0);
    expect(out).toContain('Most likely');
  });
});

describe('what goes wrong', () => {
  it.each([
    [['--jsn'], 64, 'did you mean --json?'],
    [['diagnos'], 64, 'did you mean culprint diagnose?'],
    [['list', 'cause'], 64, 'did you mean causes?'],
    [['list'], 64, 'list what?'],
    [['diagnose', '--no-input'], 64, 'no case was given'],
    [[], 64, 'no terminal'],
    [['diagnose', '--case', 'nowhere.yaml'], 66, 'there is no file'],
    [['check', 'nowhere.yaml'], 66, 'there is no file'],
    [['diagnose', 'case.yaml'], 64, '--case case.yaml'],
  ])('culprint %j ends with %d', async (args, expected, text) => {
    const { code, out, err } = await runCulprint(args as string[]);
    expect(code).toBe(expected);
    expect(out).toBe('');
    expect(err).toContain(text);
    expect(err).not.toMatch(/\n\s+at /);
  });

  it('a bad case file is shown with line, column and the nearest right word', async () => {
    const file = caseFile('complaint: stringin\nfacts:\n  material: PLAA\n  nozzle_temperature: 2100\n');
    const { code, err } = await runCulprint(['diagnose', '--case', file]);
    expect(code).toBe(65);
    for (const part of [
      ':1:12',
      'Did you mean `stringing`?',
      ':3:13',
      'Did you mean `PLA`?',
      ':4:23',
      'is outside',
    ])
      expect(err).toContain(part);
  });

  it('a broken case file never ends in a trace', async () => {
    for (const text of [
      '',
      '[',
      '- {}\n- {}',
      'complaint: [a, b]',
      'a: &x 1\nb: *x',
      '{"complaint": null}',
      '\u0000',
    ]) {
      const { code, err } = await runCulprint(['diagnose', '--case', '-'], { input: text });
      expect([64, 65]).toContain(code);
      expect(err).not.toMatch(/\n\s+at /);
    }
  });

  it('a reader that leaves ends it quietly', async () => {
    const { spawn } = await import('node:child_process');
    const child = spawn('sh', ['-c', `${process.execPath} dist/cli/main.js list facts --json | head -c 10`]);
    let err = '';
    child.stderr.on('data', (chunk) => {
      err += chunk;
    });
    await new Promise((resolve) => {
      child.on('close', resolve);
    });
    expect(err).toBe('');
  });

  it.runIf(process.platform === 'linux')('a full disk is said, with 74', async () => {
    const { spawn } = await import('node:child_process');
    const child = spawn('sh', ['-c', `${process.execPath} dist/cli/main.js list facts > /dev/full`]);
    let err = '';
    child.stderr.on('data', (chunk) => {
      err += chunk;
    });
    const code = await new Promise((resolve) => {
      child.on('close', resolve);
    });
    expect(code).toBe(74);
    expect(err).toContain('could not be written');
  });
});

describe('help and lists', () => {
  it('prints help to stdout whatever else is on the line', async () => {
    const { code, out, err } = await runCulprint(['nonsense', '--help']);
    expect(code).toBe(0);
    expect(err).toBe('');
    expect(out.split('\n').slice(0, 15).join('\n')).toContain('culprint diagnose --case');
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThan(100);
  });

  it('prints the version as its last word', async () => {
    const { out } = await runCulprint(['--version']);
    const { version } = JSON.parse(readFileSync('package.json', 'utf8'));
    expect(out.trim().split(' ').at(-1)).toBe(version);
  });

  it.each(['symptoms', 'signs', 'facts', 'causes', 'fixes'])('lists %s with ids and texts', async (kind) => {
    const { code, out } = await runCulprint(['list', kind, '--json']);
    expect(code).toBe(0);
    const { items } = JSON.parse(out);
    expect(items.length).toBeGreaterThan(8);
    for (const item of items)
      expect(item).toMatchObject({ id: expect.any(String), text: expect.stringMatching(/\S/) });
  });
});

describe('local findings', () => {
  const folder = scratchFolder('local');
  mkdirSync(join(folder, 'causes', 'room'), { recursive: true });
  mkdirSync(join(folder, 'fixes', 'room'), { recursive: true });
  mkdirSync(join(folder, 'changes'), { recursive: true });
  writeFileSync(
    join(folder, 'causes', 'room', 'fan_heater_beside.yaml'),
    'name: Fan heater beside the machine\nwhy: It blows across the plate.\nusual: very common\nsigns: {lifted_corner: nearly always}\nsources: [trade_practice]\n',
  );
  writeFileSync(
    join(folder, 'fixes', 'room', 'turn_heater_away.yaml'),
    'do: Turn the fan heater away.\nno-number: It is on or off.\nhands-on-minutes: 1\nreprint: whole\nremoves: {fan_heater_beside: practically always}\nseen-when-it-worked: The corners stay down.\nsources: [trade_practice]\n',
  );
  writeFileSync(join(folder, 'causes', 'room', 'half_written.yaml'), 'name: Half written\nusual: comon\n');
  writeFileSync(
    join(folder, 'changes', 'ours.yaml'),
    'switch-off: [draught_on_part]\nbecause: There is no draught in our cellar.\n',
  );

  it('are in force at once, marked, and a bad one is left out with its problem', async () => {
    const { code, out } = await runCulprint([
      'diagnose',
      '--case',
      caseFile('complaint: lifted_corner\n'),
      '--json',
      '--local',
      folder,
    ]);
    expect(code).toBe(0);
    const result = JSON.parse(out);
    expect(result.causes[0]).toMatchObject({ id: 'fan_heater_beside', local: folder });
    expect(result.causes.map((cause: { id: string }) => cause.id)).not.toContain('draught_on_part');
    expect(result.problems.map((problem: { file: string }) => problem.file)).toContain(
      `${folder}/causes/room/half_written.yaml`,
    );
  });

  it('are checked with file, line and the nearest word', async () => {
    const { code, out } = await runCulprint([
      'check',
      '--local',
      folder,
      join(folder, 'causes', 'room', 'half_written.yaml'),
    ]);
    expect(code).toBe(65);
    expect(out).toContain('half_written.yaml');
    expect(out).toContain('`why` is missing');
  });

  it('are marked in lists', async () => {
    const { out } = await runCulprint(['list', 'causes'], { env: { CULPRINT_LOCAL: folder } });
    expect(out).toMatch(/fan_heater_beside\n.*local/);
  });
});
