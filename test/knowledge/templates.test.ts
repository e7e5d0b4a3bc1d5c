import { readdirSync, readFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readCases } from '../../src/cases/caseFile.ts';
import { shippedFolder } from '../../src/knowledge/folders.ts';
import { joinKnowledge } from '../../src/knowledge/join.ts';
import { editorSchemas, schemaText } from '../../src/knowledge/jsonSchema.ts';
import { standInWeights, standInWords } from '../../src/knowledge/otherEntries.ts';
import { type FolderContents, readFolder } from '../../src/knowledge/read.ts';

const shipped = readFolder({ folder: shippedFolder, name: 'knowledge' });

/** The templates as someone would copy them, under the names by which they mention each other. */
const copies: Readonly<Record<string, string>> = {
  'symptoms/_template.yaml': 'symptoms/my_symptom.yaml',
  'signs/_template.yaml': 'signs/my_sign.yaml',
  'facts/_template.yaml': 'facts/my_fact.yaml',
  'causes/_template.yaml': 'causes/motion/my_cause.yaml',
  'fixes/_template.yaml': 'fixes/motion/my_fix.yaml',
  'cautions/_template.yaml': 'cautions/my_caution.yaml',
  'materials/_template.yaml': 'materials/My_material.yaml',
  'changes/_template.yaml': 'changes/my_change.yaml',
};

const local: FolderContents = {
  name: 'shop',
  files: Object.entries(copies).map(([from, to]) => ({
    path: to,
    text: readFileSync(join(shippedFolder, from), 'utf8'),
  })),
  unread: [],
  caseFiles: [],
  problems: [],
};

describe('the templates', () => {
  const { knowledge, problems } = joinKnowledge(shipped, [local]);

  it('are all tried here', () => {
    const found = readdirSync(shippedFolder, { recursive: true })
      .map(String)
      .filter((path) => basename(path).startsWith('_'));
    expect(found.sort()).toEqual([...Object.keys(copies), 'causes/_template.cases.yaml'].sort());
  });

  it('load as they are', () => {
    expect(problems.filter((problem) => problem.file.startsWith('shop/'))).toEqual([]);
    expect(knowledge.causes['my_cause']).toMatchObject({ local: 'shop', theme: 'motion' });
    expect(knowledge.fixes['my_fix']?.to).toHaveLength(2);
    expect(Object.keys(knowledge.signs)).toContain('my_sign');
    expect(Object.keys(knowledge.materials)).toContain('My_material');
  });

  it('show cases that can be read', () => {
    const file = 'causes/_template.cases.yaml';
    const read = readCases(readFileSync(join(shippedFolder, file), 'utf8'), file, knowledge);
    expect(read.problems).toEqual([]);
    expect(read.cases.map((one) => one.expectation.expect)).toEqual(['first', 'not-first']);
  });

  it('name the schema that editors take for them', () => {
    for (const path of Object.keys(copies)) {
      const [first] = readFileSync(join(shippedFolder, path), 'utf8').split('\n');
      const schema = /^# yaml-language-server: \$schema=(.+)$/.exec(first!)?.[1];
      expect(() =>
        JSON.parse(readFileSync(join(shippedFolder, dirname(path), schema!), 'utf8')),
      ).not.toThrow();
    }
  });
});

describe('the schemas for editors', () => {
  it.each(Object.entries(editorSchemas()))(
    '%s is as `culprint check --write-schemas` would write it',
    (kind, schema) => {
      expect(readFileSync(join(shippedFolder, 'schema', `${kind}.json`), 'utf8')).toBe(schemaText(schema));
    },
  );

  it('explain what a key is for', () => {
    const { definitions } = editorSchemas().cause as {
      definitions: { cause: { properties: Record<string, { description?: string }> } };
    };
    for (const key of ['name', 'why', 'usual', 'signs', 'likelier-when', 'mistaken-for', 'sources']) {
      expect(definitions.cause.properties[key]?.description, key).toMatch(/\w/);
    }
  });
});

it('the scales that stand in for a broken words.yaml or weights.yaml are the shipped ones', () => {
  const { knowledge } = joinKnowledge(shipped);
  expect(standInWords).toEqual(knowledge.words);
  expect(standInWeights).toEqual(knowledge.weights);
});
