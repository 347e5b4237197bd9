/** Tests of the strip of open red flags on a page that stays open; each exported function is one. */

function equal(actual, expected) {
  const [is, should] = [actual, expected].map((value) => JSON.stringify(value));
  if (is !== should) {
    throw new Error(`is ${is}, should be ${should}`);
  }
}

/** As much of a part of a page as the script touches: its links, written "address words" one a line. */
function region(text) {
  return {
    childNodes: text.split('\n').filter(Boolean).map((line) => {
      const [href, ...words] = line.split(' ');
      return { textContent: words.join(' '), getAttribute: () => href, focus() { document.activeElement = this; } };
    }),
    querySelectorAll() { return this.childNodes; },
    contains(node) { return this.childNodes.includes(node); },
    replaceChildren(...fresh) { this.childNodes = fresh; this.replaced += 1; },
    replaced: 0
  };
}

const strip = Object.assign(region(''), { dataset: { again: '/again' }, hidden: true });
const news = { textContent: '' };
const listeners = {};
const asked = [];
let everySoOften = null;
let answer = null;

Object.assign(globalThis, {
  document: {
    hidden: false,
    activeElement: null,
    getElementById: (id) => (id === 'flag-strip' ? strip : news),
    addEventListener: (name, listener) => { listeners[name] = listener; }
  },
  DOMParser: class {
    parseFromString(text) { return { body: region(text) }; }
  },
  setInterval: (look, milliseconds) => { everySoOften = { look, milliseconds }; },
  fetch: (address, options) => {
    asked.push([address, options.headers['HX-Request']]);
    return answer();
  }
});

const script = import('../../main/resources/static/scripts/flag-strip.js');

function says(text, changes) {
  answer = () => Promise.resolve({ ok: true, redirected: false, text: () => Promise.resolve(text), ...changes });
}

const shown = () => strip.childNodes.map((link) => link.textContent);

export async function looks_by_itself_once_a_minute_and_when_the_day_changes() {
  await script;
  equal(everySoOften.milliseconds, 60000);
  says('/1 Red flag, A.B.');
  await everySoOften.look();
  equal([shown(), strip.hidden], [['Red flag, A.B.'], false]);
  says('/1 Red flag, A.B.\n/2 Red flag, C.D.');
  await listeners['day-changed']();
  equal(shown(), ['Red flag, A.B.', 'Red flag, C.D.']);
  equal(asked.every(([address, byItself]) => address === '/again' && byItself === 'true'), true);
}

export async function reads_a_new_one_out_once_and_leaves_what_is_unchanged_alone() {
  await script;
  says('/1 Red flag, A.B.');
  await everySoOften.look();
  says('/1 Red flag, A.B.\n/3 Red flag, E.F.');
  await everySoOften.look();
  equal(news.textContent, 'Red flag, E.F.');
  news.textContent = 'read';
  const before = strip.replaced;
  await everySoOften.look();
  equal([strip.replaced, news.textContent], [before, 'read']);
  says('/1 Red flag, A.B. overdue\n/3 Red flag, E.F.');
  await everySoOften.look();
  equal([shown()[0], news.textContent], ['Red flag, A.B. overdue', 'read']);
}

export async function leaves_the_focus_on_the_same_red_flag() {
  await script;
  says('/1 Red flag, A.B.\n/2 Red flag, C.D.');
  await everySoOften.look();
  document.activeElement = strip.childNodes[1];
  says('/2 Red flag, C.D. overdue');
  await everySoOften.look();
  equal(document.activeElement.textContent, 'Red flag, C.D. overdue');
  document.activeElement = null;
}

export async function goes_when_none_is_left() {
  await script;
  says('/1 Red flag, A.B.');
  await everySoOften.look();
  says('');
  await everySoOften.look();
  equal([shown(), strip.hidden], [[], true]);
}

export async function stays_as_it_is_while_nothing_answers_or_somebody_has_to_sign_in() {
  await script;
  says('/1 Red flag, A.B.');
  await everySoOften.look();
  answer = () => Promise.reject(new Error('no connection'));
  await everySoOften.look();
  says('', { ok: false });
  await everySoOften.look();
  says('', { redirected: true });
  await everySoOften.look();
  equal(shown(), ['Red flag, A.B.']);
}
