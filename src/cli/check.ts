import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import { readCases } from '../cases/caseFile.ts';
import { kindOfFile } from '../knowledge/collect.ts';
import { findPlaces } from '../knowledge/folders.ts';
import { editorSchemas, writeEditorSchemas } from '../knowledge/jsonSchema.ts';
import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import { loadKnowledge } from '../knowledge/load.ts';
import { type Problem, sortProblems } from '../knowledge/problem.ts';
import { showProblems } from '../terminal/showProblems.ts';
import { exitCode, Stop } from './exit.ts';
import { lookFor } from './look.ts';
import type { Options } from './options.ts';
import { writeJson, writeResult } from './output.ts';

/**
 * `culprint check [FILES]`: every problem of the knowledge, the local findings and the cases, always from the files
 * themselves. With files or folders named, only what is wrong in those.
 */
export async function check(operands: readonly string[], options: Options): Promise<number> {
  const places = findPlaces({
    local: options.local,
    ...(options.data === undefined ? {} : { data: options.data }),
  });
  if (options.writeSchemas) {
    await writeResult(
      `${writeEditorSchemas(places.shipped)} schemas written: ${Object.keys(editorSchemas()).join(', ')}`,
    );
    return exitCode.finished;
  }
  for (const operand of operands) {
    if (!existsSync(operand))
      throw new Stop(exitCode.missingInput, `there is no file ${JSON.stringify(operand)}`);
  }
  const { knowledge, problems } = loadKnowledge(places);
  const causes = [
    join(places.shipped, 'causes'),
    ...places.local.map(({ folder }) => join(folder, 'causes')),
  ];
  const all = sortProblems([
    ...problems,
    ...checkCases(causes, knowledge),
    ...checkNamedCases(operands, knowledge),
  ]);
  const shown = operands.length === 0 ? all : all.filter((problem) => isIn(problem, operands));
  const errors = shown.filter((problem) => problem.grade === 'error').length;
  if (options.json) await writeJson({ version: 1, problems: shown });
  else if (shown.length === 0) await writeResult(allWell(knowledge));
  else await writeResult(showProblems(shown, lookFor(process.stdout, options).width));
  return errors > 0 ? exitCode.badData : exitCode.finished;
}

function allWell(knowledge: KnowledgeBase): string {
  const count = (entries: object, name: string) => `${Object.keys(entries).length} ${name}`;
  const { symptoms, signs, facts, causes, fixes } = knowledge;
  return `No problems: ${count(symptoms, 'symptoms')}, ${count(signs, 'signs')}, ${count(facts, 'facts')}, ${count(causes, 'causes')}, ${count(fixes, 'fixes')}.`;
}

function checkCases(folders: readonly string[], knowledge: KnowledgeBase): Problem[] {
  return folders.filter(existsSync).flatMap((folder) =>
    readdirSync(folder, { recursive: true })
      .map(String)
      .filter((name) => name.endsWith('.cases.yaml') && !basename(name).startsWith('_'))
      .flatMap(
        (name) =>
          readCases(readFileSync(join(folder, name), 'utf8'), join('knowledge/causes', name), knowledge)
            .problems,
      ),
  );
}

/** Case files outside the knowledge, such as those for `--case`. */
function checkNamedCases(operands: readonly string[], knowledge: KnowledgeBase): Problem[] {
  return operands
    .filter((operand) => statSync(operand).isFile() && isCase(operand))
    .flatMap((operand) => readCases(readFileSync(operand, 'utf8'), operand, knowledge).problems);
}

function isCase(operand: string): boolean {
  if (/(^|\/)(causes|fixes|facts|signs|symptoms|materials|cautions|changes)\//.test(resolve(operand)))
    return false;
  return !Object.hasOwn(kindOfFile, basename(operand));
}

/** Problems name files by folder name and path inside it; the operand may be any path that leads there. */
function isIn(problem: Problem, operands: readonly string[]): boolean {
  return operands.some((operand) => {
    if (problem.file === operand) return true;
    const wanted = resolve(operand);
    return (
      wanted.endsWith(`/${problem.file}`) ||
      `/${problem.file}`.includes(`/${basename(wanted)}/`) ||
      wanted === resolve(problem.file)
    );
  });
}
