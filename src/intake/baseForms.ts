/** Forms that no ending explains (any grammar of English). */
const irregular = new Map(
  Object.entries({
    be: 'was were been',
    bend: 'bent',
    begin: 'began begun',
    bind: 'bound',
    blow: 'blew blown',
    break: 'broke broken',
    bring: 'brought',
    build: 'built',
    burn: 'burnt',
    buy: 'bought',
    catch: 'caught',
    come: 'came',
    do: 'did does done',
    draw: 'drew drawn',
    fall: 'fell fallen',
    feed: 'fed',
    feel: 'felt',
    find: 'found',
    get: 'got gotten',
    give: 'gave given',
    go: 'went gone goes',
    grind: 'ground',
    grow: 'grew grown',
    hang: 'hung',
    have: 'had has',
    hear: 'heard',
    hold: 'held',
    keep: 'kept',
    lay: 'laid',
    leave: 'left',
    lie: 'lay lain',
    lose: 'lost',
    make: 'made',
    melt: 'molten',
    rise: 'rose risen',
    run: 'ran',
    see: 'saw seen',
    sink: 'sank sunk',
    slide: 'slid',
    spin: 'spun',
    spring: 'sprang sprung',
    stand: 'stood',
    stick: 'stuck',
    swell: 'swollen',
    take: 'took taken',
    tear: 'tore torn',
    tell: 'told',
    throw: 'threw thrown',
    wear: 'wore worn',
    wind: 'wound',
  }).flatMap(([base, forms]) => forms.split(' ').map((form) => [form, base] as const)),
);

/** The words that a word may be a form of: "popping" of "pop", "dried" of "dry", "stuck" of "stick". */
export function baseForms(word: string): readonly string[] {
  const forms = new Set([word]);
  const base = irregular.get(word);
  if (base !== undefined) forms.add(base);
  for (const ending of ['s', 'es', 'ed', 'd', 'ing', 'ly']) {
    if (!word.endsWith(ending) || word.length - ending.length < 2) continue;
    const stem = word.slice(0, -ending.length);
    forms.add(stem);
    if (ending !== 'ed' && ending !== 'ing' && ending !== 'es') continue;
    if (ending !== 'es') forms.add(`${stem}e`);
    if (/([bdfgklmnprtvz])\1$/.test(stem)) forms.add(stem.slice(0, -1));
    if (stem.endsWith('i')) forms.add(`${stem.slice(0, -1)}y`);
  }
  return [...forms];
}
