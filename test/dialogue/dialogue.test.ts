import { describe, expect, it } from 'vitest';
import { emptyCase, openEngine } from '../../src/dialogue/engine.ts';
import { askedOf, type Interview } from '../../src/dialogue/interview.ts';
import { nextStep } from '../../src/dialogue/nextStep.ts';
import { questionFor } from '../../src/dialogue/question.ts';
import type { Marks, Sheet } from '../../src/dialogue/sheet.ts';
import { logOdds } from '../../src/inference/explain.ts';
import {
  answers,
  cause,
  choice,
  factValue,
  fix,
  knowledgeOf,
  limit,
  link,
  number,
  plainNumber,
  sign,
  symptom,
} from '../support/tinyKnowledge.ts';

const knowledge = knowledgeOf({
  symptoms: [symptom('place'), symptom('hairs', 'place'), symptom('smoke', 'place')],
  signs: [
    sign('pops', [0.02, 0.005], { topic: 'nozzle' }),
    sign('drips', [0.05], { topic: 'nozzle', effortSeconds: 5 }),
    sign('long_tube_kinked', [0.01], {
      topic: 'machine',
      askWhen: { kind: 'is', name: 'drive', values: ['tube'] },
    }),
  ],
  facts: [
    choice('drive', { tube: 4, direct: 6 }, { topic: 'machine' }),
    choice('since', { always: 3, sudden: 3, slowly: 4 }, { onset: true, topic: 'onset' }),
    number('nozzle', [195, 210, 225], { unit: 'degC', range: [150, 320], topic: 'nozzle' }),
    number('spare', [1, 2, 3], { topic: 'machine' }),
  ],
  causes: [
    cause('wet', 0.05, [link('hairs', 0.75), link('pops', 0.75, 0.4)], [answers('since', { slowly: 5 })]),
    cause(
      'hot',
      0.05,
      [link('hairs', 0.75), link('drips', 0.6)],
      [limit('nozzle', 'above', 220, 5, 10, 0.2), answers('since', { sudden: 2 })],
    ),
    cause(
      'slack',
      0.03,
      [link('hairs', 0.6), link('long_tube_kinked', 0.7)],
      [answers('drive', { tube: 5 })],
    ),
  ],
  fixes: [
    fix('dry', { wet: 0.9 }, 10, { waitingMinutes: plainNumber(480), reprint: 'piece' }),
    fix('cool', { hot: 0.75 }, 2, {
      set: 'nozzle',
      to: [
        {
          text: 'nozzle - 10',
          unit: 'degC',
          reads: ['nozzle'],
          node: {
            op: '-',
            left: { op: 'fact', id: 'nozzle' },
            right: { op: 'number', value: 10 },
          },
        },
      ],
      reprint: 'piece',
      worsens: { wet: 'No harm to damp filament.' },
    }),
    fix('new_tube', { slack: 0.75 }, 30, { reprint: 'piece', to: [factValue('spare', 'mm')] }),
  ],
});
const engine = openEngine(knowledge);
const complaint = { ...emptyCase, complaint: 'hairs' };

type Said = string | number | 'unknown';

/** On a look what is said there and then; elsewhere the lines that the person takes on. */
function marksOn(
  { kind, items }: Sheet,
  reply: (id: string) => Said,
  takesOn: (id: string) => boolean,
): Marks {
  const marks: Record<string, 'yes' | 'no'> = {};
  for (const { id } of items) {
    const value = reply(id);
    if (kind !== 'look' && takesOn(id)) marks[id] = 'yes';
    if (kind === 'look' && (value === 'yes' || value === 'no')) marks[id] = value;
  }
  return marks;
}

/** Plays a person to the end; by default one who takes on every line of a sheet, even without an answer to it. */
function play(reply: (id: string) => Said, most = 8, takesOn: (id: string) => boolean = () => true) {
  let interview: Interview = engine.start(complaint);
  const asked: string[] = [];
  for (;;) {
    const step = engine.next(interview, most);
    if (step.kind === 'stop') return { interview, asked, step };
    if (step.kind === 'sheet') {
      asked.push(step.sheet.id);
      interview = engine.mark(interview, step.sheet, marksOn(step.sheet, reply, takesOn)).interview;
      continue;
    }
    asked.push(step.question.id);
    const value = reply(step.question.id);
    interview = engine.answer(
      interview,
      step.question,
      value === 'unknown' ? 'unknown' : { value },
    ).interview;
  }
}

describe('asking', () => {
  it('asks each question once and comes to an end', () => {
    const { asked } = play(() => 'unknown');
    expect(new Set(asked).size).toBe(asked.length);
    expect(asked.length).toBeGreaterThan(2);
  });

  it('asks the onset among the first questions', () => {
    const { asked } = play(() => 'unknown');
    // The sheet that leads to it is no question with an answer; it has to come as early.
    const questions = asked.filter((id) => !id.startsWith('#'));
    expect(questions).toContain('since');
    expect(questions.indexOf('since')).toBeLessThan(4);
    expect(asked.findIndex((id) => id === 'since' || id.startsWith('#recall'))).toBeLessThan(4);
  });

  it('does not ask what cannot apply', () => {
    const { asked } = play((id) => (id === 'drive' ? 'direct' : 'unknown'));
    expect(asked).toContain('drive');
    expect(asked.slice(asked.indexOf('drive'))).not.toContain('long_tube_kinked');
  });

  it('keeps to the number of questions allowed', () => {
    const { interview, asked, step } = play(
      () => 'unknown',
      2,
      () => false,
    );
    // A number that the first change waits for may still be asked.
    expect(asked.filter((id) => id !== 'nozzle' && id !== 'spare').length).toBeLessThanOrEqual(2);
    expect(askedOf(interview)).toBe(asked.length);
    expect(step).toEqual({ kind: 'stop', reason: 'enough_questions' });
  });

  it('"do not know" changes nothing but what is asked next', () => {
    const { interview } = play(() => 'unknown');
    const before = engine.diagnose(complaint);
    const after = engine.diagnose(interview.case);
    after.causes.forEach((ranked, rank) => {
      expect(ranked.chance).toBeCloseTo(before.causes[rank]!.chance, 12);
    });
  });

  it('a single cause left with certainty leaves nothing worth asking', () => {
    const { interview, step } = play(
      (id) => ({ pops: 'much', drips: 'no', since: 'slowly' })[id] ?? 'unknown',
    );
    expect(engine.diagnose(interview.case).causes[0]!.cause.id).toBe('wet');
    expect(step.kind).toBe('stop');
  });

  it('asks for the number that the first change waits for', () => {
    const known = {
      ...complaint,
      facts: { drive: 'tube', since: 'always' },
      signs: { long_tube_kinked: 'yes', pops: 'none', drips: 'no' },
    };
    const step = nextStep(engine.model, { ...known, unknown: ['nozzle'] }, { questions: 0, asked: 0 });
    expect(step).toMatchObject({ kind: 'ask', purpose: 'number', question: { id: 'spare' } });
  });
});

describe('going back', () => {
  const first = engine.start(complaint);
  const since = questionFor(knowledge, 'since')!;
  const one = engine.answer(first, since, 'unknown').interview;

  it('opens the last question again with its answer', () => {
    const back = engine.back(one)!;
    expect(engine.next(back, 8)).toMatchObject({ kind: 'ask', question: { id: 'since' } });
    expect(back.case.unknown).toContain('since');
  });

  it('is harmless at the first question', () => {
    expect(engine.back(first)).toBeUndefined();
  });

  it('gives the same result as having answered so at first', () => {
    const answer = (interview: Interview, id: string, value: string) => {
      const question = { id, kind: 'fact' as const };
      return engine.answer(interview, { ...since, ...question }, { value }).interview;
    };
    const wrong = answer(answer(first, 'since', 'sudden'), 'drive', 'direct');
    const back = engine.back(engine.back(wrong)!)!;
    const mended = answer(back, 'since', 'slowly');
    const right = answer(answer(first, 'since', 'slowly'), 'drive', 'direct');
    expect(mended.case.facts).toEqual(right.case.facts);
    expect(mended.trail).toEqual(right.trail);
  });

  it('drops a later answer that no longer applies, and says so', () => {
    const fact = { ...since, id: 'drive', kind: 'fact' as const };
    const kink = { ...since, id: 'long_tube_kinked', kind: 'sign' as const };
    const tube = engine.answer(first, fact, { value: 'tube' }).interview;
    const kinked = engine.answer(tube, kink, { value: 'yes' }).interview;
    const changed = engine.answer(engine.back(engine.back(kinked)!)!, fact, { value: 'direct' });
    expect(changed.dropped).toEqual(['long_tube_kinked']);
    expect(changed.interview.case.signs).toEqual({});
  });
});

describe('the result', () => {
  const known = {
    ...complaint,
    facts: { nozzle: 230, since: 'slowly', drive: 'direct' },
    signs: { pops: 'none' },
  };
  const diagnosis = engine.diagnose(known);

  it('gives chances that add up to one', () => {
    const sum = diagnosis.causes.reduce((total, ranked) => total + ranked.chance, diagnosis.otherChance);
    expect(sum).toBeCloseTo(1, 12);
  });

  it('gives reasons that add up to the whole change of the odds', () => {
    const start = engine.diagnose(complaint);
    for (const ranked of diagnosis.causes) {
      const before = start.causes.find((other) => other.cause.id === ranked.cause.id)!.chance;
      const change = ((logOdds(ranked.chance) - logOdds(before)) * 10) / Math.LN10;
      const sum = ranked.reasons.reduce((total, reason) => total + reason.decibans, 0);
      expect(sum).toBeCloseTo(change, 6);
    }
  });

  it('says against which limit a number was held', () => {
    const hot = diagnosis.causes.find((ranked) => ranked.cause.id === 'hot')!;
    const reason = hot.reasons.find((entry) => entry.id === 'nozzle')!;
    expect(reason.text).toContain('should be at most 220 °C');
    expect(reason.decibans).toBeGreaterThan(0);
  });

  it('works the number of a change out from the number given', () => {
    const cool = diagnosis.fixes.find((planned) => planned.advice.fix.id === 'cool')!;
    expect(cool.advice).toMatchObject({ from: 230, to: [220], unit: 'degC' });
  });

  it('leaves out what was tried', () => {
    const tried = engine.diagnose({ ...known, tried: { cool: 'no_change' } });
    expect(tried.fixes.map((planned) => planned.advice.fix.id)).not.toContain('cool');
  });

  it('expects less time than giving up at once', () => {
    expect(diagnosis.expectedMinutes).toBeLessThanOrEqual(knowledge.weights.callMinutes);
    expect(diagnosis.expectedMinutes).toBeGreaterThan(0);
  });
});

describe('cautions', () => {
  it('of every change in the plan are with the result, not only those of the first', () => {
    const caution = (id: string) => ({
      id,
      file: `${id}.yaml`,
      text: id,
      longPrints: id === 'watch',
      stopNow: false,
      words: [],
      sources: [],
    });
    const careful = openEngine({
      ...knowledge,
      // Dear enough that the two changes come one after the other.
      weights: { ...knowledge.weights, bundleMinutes: 100 },
      cautions: {
        burns: caution('burns'),
        blades: caution('blades'),
        watch: caution('watch'),
        general: caution('general'),
      },
      fixes: {
        dry: { ...knowledge.fixes['dry']!, cautions: ['burns'] },
        new_tube: { ...knowledge.fixes['new_tube']!, cautions: ['blades'] },
      },
    });
    const diagnosis = careful.diagnose(complaint);
    expect(diagnosis.plan.length).toBeGreaterThan(1);
    expect(diagnosis.cautions.map(({ id }) => id).sort()).toEqual(['blades', 'burns', 'general']);
    const long = careful.diagnose({ ...complaint, reprint: { minutes: 241 } });
    expect(long.cautions.map(({ id }) => id)).toContain('watch');
  });
});
