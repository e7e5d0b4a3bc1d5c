import { createPrompt, isBackspaceKey, isEnterKey, useEffect, useKeypress, useState } from '@inquirer/core';
import type { Question } from '../dialogue/question.ts';
import type { Choice, OnRedraw, PanelName, Panels } from './asker.ts';
import { layOut } from './frame.ts';
import type { HeldKey } from './heldKey.ts';
import { isNoughtAnAnswer, rangeText, readAnswer } from './readAnswer.ts';
import type { Look } from './style.ts';

export interface NumberConfig {
  readonly question: Question;
  readonly before?: string;
  readonly panels: Panels;
  readonly look: () => Look;
  readonly rows: () => number;
  readonly held: HeldKey;
  readonly onRedraw: OnRedraw;
}

const panelKeys: Readonly<Record<string, PanelName>> = { w: 'why', l: 'look', r: 'ranking' };
const longest = 24;

/** A number with a unit, typed; letters are commands only while nothing has been typed. */
export const numberPrompt = createPrompt<Choice, NumberConfig>((config, done) => {
  const { question, panels, held } = config;
  const look = config.look();
  const [typed, setTyped] = useState(config.before ?? '');
  const [panel, setPanel] = useState<PanelName | undefined>(undefined);
  const [complaint, setComplaint] = useState('');
  const [, setDrawn] = useState(0);
  useEffect((rl) => {
    // Ctrl-D ends the line reader without a word; it means the same as q.
    (rl as unknown as NodeJS.EventEmitter).once('close', () => done({ kind: 'stop' }));
    return config.onRedraw(() => setDrawn(Date.now()));
  }, []);

  useKeypress((key, rl) => {
    rl.clearLine(0);
    const name = key.name ?? '';
    const sequence = (key as { sequence?: string }).sequence ?? '';
    if (key.ctrl && name === 'd') return done({ kind: 'stop' });
    if (key.ctrl || held.swallows(name || sequence)) return;
    if (name === 'escape') return done({ kind: 'back' });
    if (isBackspaceKey(key)) return setTyped(typed.slice(0, -1));
    if (sequence === '?') return done({ kind: 'unknown' });
    if (isEnterKey(key)) {
      if (typed.trim() === '') return setComplaint(`Type ${rangeText(question)}.`);
      if (typed.trim() === '0' && !isNoughtAnAnswer(question)) return done({ kind: 'unknown' });
      const answer = readAnswer(question, typed);
      if (typeof answer === 'object') return setComplaint(answer.complaint);
      return done({ kind: 'answer', value: answer });
    }
    setComplaint('');
    if (typed === '') {
      const wanted = panelKeys[name];
      if (wanted) return setPanel(panel === wanted ? undefined : wanted);
      if (name === 'b') return done({ kind: 'back' });
      if (name === 'q') return done({ kind: 'stop' });
    }
    // Printable characters only: arrows and the like come as escape sequences.
    if (/^[\x20-\x7e°²³µ]$/u.test(sequence) && typed.length < longest) setTyped(typed + sequence);
  });

  const lines = [`  > ${typed}_`, '', `  ${rangeText(question)}`];
  const text = complaint || (panel ? panels[panel]() : undefined);
  const footer = [
    'Enter takes it',
    `${isNoughtAnAnswer(question) ? '?' : '0 or ?'} do not know`,
    'l how to look',
    'w why this',
    'r ranking',
    'Esc back',
    'q save and stop',
  ];
  const frame = { title: question.text, lines, active: 0, footer };
  return layOut(text === undefined ? frame : { ...frame, panel: text }, look, config.rows());
});
