import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Collected, collectDrafts } from '../../src/knowledge/collect.ts';
import { shippedFolder } from '../../src/knowledge/folders.ts';
import { joinLayers, type Loaded } from '../../src/knowledge/join.ts';
import type { Problem } from '../../src/knowledge/problem.ts';

/** Files of a knowledge folder by path. */
export type Files = Readonly<Record<string, string>>;

const drawing = `drawing: |
  __/\\\\__
`;

/** A knowledge base that is sound and small: two causes, a fix for each. Contents invented for the tests. */
export const base: Files = {
  'words.yaml': `links: {almost never: 0.02, rarely: 0.1, sometimes: 0.25, half the time: 0.5, usually: 0.75, nearly always: 0.9, practically always: 0.98}
usual: {very rare: 0.005, rare: 0.01, occasional: 0.02, common: 0.04, very common: 0.08}
odds: {all but excludes: 0.05, strongly against: 0.2, against: 0.5, neutral: 1, favours: 2, strongly favours: 5, all but implies: 20}
chances: {likely: 0.65, unlikely: 0.1, very unlikely: 0}
`,
  // Those of the project: which there are is no concern of these tests.
  'weights.yaml': readFileSync(join(shippedFolder, 'weights.yaml'), 'utf8'),
  'sources.yaml': 'trade_practice: {what: Habit of the trade, known: common practice}\n',
  'symptoms/between_parts.yaml': 'title: Between parts\norder: 1\n',
  'symptoms/stringing.yaml': `title: Hairs between parts
under: between_parts
also-called: [hairs]
tell-apart:
  blobs: {by: popping, how: Hairs pull out; blobs sit.}
${drawing}`,
  'symptoms/blobs.yaml': `title: Blobs\nunder: between_parts\n${drawing}`,
  'signs/popping.yaml': `name: pops
ask: Do you hear pops?
levels: {none: "no", some: now and then, much: often}
topic: nozzle
look: Listen.
effort-seconds: 30
cannot-tell: rarely
ask-when: {material: [PLA, ABS]}
`,
  'facts/material.yaml': `name: filament
kind: material
ask: Which plastic?
topic: filament
look: Read the label.
effort-seconds: 5
cannot-tell: almost never
first: yes
`,
  'facts/spool_storage.yaml': `name: spool kept
kind: choice
ask: How was it kept?
answers: {sealed: in a bag, open_air: in the open}
usual: {sealed: 4, open_air: 6}
usual-for: {ABS: {sealed: 8, open_air: 2}}
topic: filament
look: Look.
effort-seconds: 5
cannot-tell: rarely
`,
  'facts/box_closed.yaml': `name: box closed
kind: yes_no
ask: Is the box closed?
usual: {yes: 3, no: 7}
topic: room
look: Look.
effort-seconds: 5
cannot-tell: rarely
ask-when: {material: ABS}
`,
  'facts/nozzle_temperature.yaml': `name: nozzle
kind: number
unit: degC
range: [150, 400]
typical: [195, 220, 255]
typical-for: {PLA: [195, 210, 225]}
within-material: nozzle
ask: How hot?
topic: nozzle
look: Read the screen.
effort-seconds: 5
cannot-tell: rarely
`,
  'facts/nozzle_excess.yaml': `name: above the middle
kind: computed
unit: K
topic: nozzle
value: nozzle_temperature - material.nozzle_mid
`,
  'causes/filament/damp_filament.yaml': `name: Damp filament
why: >
  Filament takes up water from room air. In the hot nozzle the water turns to
  steam, which drives melt out while the nozzle travels and leaves bubbles behind.
usual: occasional                # share of failed prints; a word from words.yaml
signs:                           # of prints with this cause, how many show it
  popping: usually
  stringing: usually
likelier-when:
  spool_storage: {open_air: favours, sealed: against}
mistaken-for:
  nozzle_too_hot: Ask whether the nozzle pops; a hot nozzle strings in silence.
sources: [trade_practice]
`,
  'causes/heat/nozzle_too_hot.yaml': `name: Nozzle too hot
why: Hot melt runs.
usual: common
signs:
  stringing: {shows: usually, when: [{if: {material: ABS}, shows: sometimes}], because: Seen.}
  blobs: sometimes
likelier-when:
  nozzle_excess: {bad-above: 15 K, width: 8, bad: favours, good: against}
also-when:
  - {if: {material: ABS, box_closed: yes}, odds: favours, because: Warm air.}
sources: [trade_practice]
`,
  'fixes/filament/dry_the_spool.yaml': `do: Dry the spool.
set: drying temperature
to: min(material.drying_temperature_high, 60 degC)
unit: degC
why-this-number: At most {material.drying_temperature_high} degC.
hands-on-minutes: 10
waiting-minutes: 4 h
reprint: whole
removes: {damp_filament: nearly always}
seen-when-it-worked: The pops go first.
cautions: [no_food_oven]
caps:
  - {if: {material: PLA}, at-most: 50 degC, because: It softens.}
sources: [trade_practice]
`,
  'fixes/heat/cooler_nozzle.yaml': `do: Print cooler.
set: nozzle_temperature
to: [material.nozzle_low, material.nozzle_mid]
hands-on-minutes: 1
reprint: piece
removes: {nozzle_too_hot: usually}
worsens: {blobs: They may stay.}
seen-when-it-worked: Fewer hairs.
when: {nozzle_excess: {above: 0 K}}
sources: [trade_practice]
`,
  'cautions/no_food_oven.yaml': 'text: Use no oven that food goes into.\nsources: [trade_practice]\n',
  'cautions/stop_smoke.yaml':
    'text: Switch it off.\nstop-now: yes\nwords: [smoke]\nwhen: {blobs: yes}\nsources: [trade_practice]\n',
  'materials/PLA.yaml': `name: PLA
family: polyester
usual: 6
properties:
  nozzle: {low: 190, high: 225, known: common practice}
  drying_temperature: {low: 45, high: 50, known: common practice}
  diffusion: {low: 2.0e-12, high: 2.0e-10, known: from memory}
sources: [trade_practice]
`,
  'materials/ABS.yaml': `name: ABS
family: styrenic
usual: 4
properties:
  nozzle: {low: 230, high: 255, mid: 240, known: common practice}
  drying_temperature: {low: 75, high: 80, known: common practice}
sources: [trade_practice]
`,
};

const collected = new Map<string, Collected>();

/** Files that stay as they are from test to test are parsed once. */
function collectFile(name: string, local: string | undefined, path: string, text: string): Collected {
  const key = JSON.stringify([name, local, path]);
  const known = base[path] === text ? collected.get(key) : undefined;
  if (known) return known;
  const fresh = collectDrafts(
    { name, files: [{ path, text }], unread: [], caseFiles: [], problems: [] },
    local,
  );
  if (base[path] === text) collected.set(key, fresh);
  return fresh;
}

function layerOf(name: string, local: string | undefined, files: Files): Collected {
  const each = Object.entries(files).map(([path, text]) => collectFile(name, local, path, text));
  return { drafts: each.flatMap((one) => one.drafts), problems: each.flatMap((one) => one.problems) };
}

/** The base with some files replaced or added (`undefined` takes one out), and local folders over it. */
export function load(
  changed: Readonly<Record<string, string | undefined>> = {},
  ...local: readonly (Files | readonly [string, Files])[]
): Loaded {
  const shipped: Record<string, string> = {};
  for (const [path, text] of Object.entries({ ...base, ...changed }))
    if (text !== undefined) shipped[path] = text;
  const folders = local.map((one) =>
    Array.isArray(one) ? layerOf(one[0], one[0], one[1]) : layerOf('shop', 'shop', one as Files),
  );
  return joinLayers([layerOf('knowledge', undefined, shipped), ...folders]);
}

/** A file of the base with one piece of its text exchanged; the piece must be there. */
export function edited(path: string, from: string, to: string): Files {
  const text = base[path];
  if (text === undefined || !text.includes(from)) throw new Error(`${path} has no ${from}`);
  return { [path]: text.replace(from, to) };
}

/** `code file:line:column`, and the marked piece of the line. */
export function briefly(problems: readonly Problem[]): string[] {
  return problems.map(
    ({ code, file, line, column, length, lineText }) =>
      `${code} ${file}:${line}:${column} ${lineText.slice(column - 1, column - 1 + length)}`,
  );
}
