/** Tests of the presses that wait for a connection; each exported function is one. */
import { newKey, pressQueue, pressSender, shownAs, STORE } from '../../main/resources/static/scripts/press-queue.js';

const ASH = 'ash';
const BIRCH = 'birch';

function equal(actual, expected) {
  const [is, should] = [actual, expected].map((value) => JSON.stringify(value));
  if (is !== should) {
    throw new Error(`is ${is}, should be ${should}`);
  }
}

/** A browser's storage of limited size. */
function storage(text, limit = 10000) {
  let kept = text ?? null;
  return {
    getItem: () => kept,
    setItem: (name, value) => {
      equal(name, STORE);
      if (value.length > limit) {
        throw new Error('full');
      }
      kept = value;
    },
    removeItem: () => {
      kept = null;
    }
  };
}

function press(key, id, what, who = 'p1') {
  return { key, id, what, to: `/appointments/${id}/${what}`, label: '09:00', who, at: 0 };
}

const keys = (presses) => presses.map((each) => each.key);
const done = { status: 200, ok: true, type: 'basic', json: async () => ({ done: true, said: [] }) };
const refusal = { status: 409, ok: false, type: 'basic', json: async () => ({ done: false, said: ['The day', 'is closed.'] }) };
const status = (code) => ({ ...done, status: code, ok: code < 400 });

/** A sender whose answers are handed in, one for each try; an answer that is null is a broken connection. */
function sender(queue, answers, who = 'p1') {
  const said = [];
  const posted = [];
  const later = [];
  const sends = pressSender(queue, who, async (each) => {
    posted.push(each.key);
    const answer = answers.shift();
    if (!answer) {
      throw new TypeError('no connection');
    }
    return answer;
  }, (again) => later.push(again), {
    changed: () => {},
    waits: (signedOut) => said.push(signedOut ? 'signed out' : 'waits'),
    reached: () => said.push('reached'),
    done: (each, waited) => said.push(`done ${each.key}${waited ? ' late' : ''}`),
    refused: (each, why) => said.push(`refused ${each.key}: ${why}`)
  });
  return { ...sends, said, posted, later };
}

function queueOf(...presses) {
  const queue = pressQueue(storage());
  presses.forEach((each) => queue.add(each));
  return queue;
}

export async function presses_are_sent_in_order_and_struck_off() {
  const queue = queueOf(press('a', ASH, 'call-in'), press('b', ASH, 'finish'));
  const sends = sender(queue, [done, done]);
  await sends.send();
  equal(sends.posted, ['a', 'b']);
  equal(sends.said, ['done a', 'reached', 'done b', 'reached']);
  equal(queue.all(), []);
  equal(sends.later.length, 0);
}

export async function a_press_without_a_connection_waits_and_is_sent_again_with_its_key() {
  const queue = queueOf(press('a', ASH, 'call-in'), press('b', ASH, 'finish'));
  const sends = sender(queue, [null, done, done]);
  await sends.send();
  equal(sends.said, ['waits']);
  equal(keys(queue.tried()), ['a', 'b']);
  equal(sends.later.length, 1);
  await sends.later[0]();
  equal(sends.posted, ['a', 'a', 'b']);
  equal(sends.said.slice(1), ['done a late', 'reached', 'done b late', 'reached']);
  equal(queue.all(), []);
}

export async function a_press_is_not_sent_twice_at_once() {
  const queue = queueOf(press('a', ASH, 'call-in'));
  const sends = sender(queue, [done]);
  const first = sends.send();
  equal(sends.isSending('a'), true);
  await Promise.all([first, sends.send()]);
  equal(sends.posted, ['a']);
  equal(sends.isSending('a'), false);
}

export async function whoever_must_sign_in_first_loses_nothing() {
  const answers = [status(401), status(403), { ...done, type: 'opaqueredirect', status: 0 }];
  for (const answer of answers) {
    const queue = queueOf(press('a', ASH, 'call-in'));
    const sends = sender(queue, [answer]);
    await sends.send();
    equal(sends.said, ['signed out']);
    equal(keys(queue.tried()), ['a']);
  }
}

export async function a_server_that_fails_is_asked_again() {
  const queue = queueOf(press('a', ASH, 'call-in'));
  const sends = sender(queue, [status(503)]);
  await sends.send();
  equal(sends.said, ['waits']);
  equal(sends.later.length, 1);
  equal(keys(queue.all()), ['a']);
}

export async function a_refusal_is_told_and_the_next_press_sent() {
  const queue = queueOf(press('a', ASH, 'call-in'), press('b', BIRCH, 'check-in'));
  const sends = sender(queue, [refusal, done]);
  await sends.send();
  equal(sends.said, ['refused a: The day is closed.', 'reached', 'done b', 'reached']);
  equal(queue.all(), []);
}

export async function an_answer_that_cannot_be_read_counts_by_its_status() {
  const unreadable = { json: async () => { throw new SyntaxError('cut off'); } };
  const queue = queueOf(press('a', ASH, 'call-in'), press('b', ASH, 'finish'));
  const sends = sender(queue, [{ ...done, ...unreadable }, { ...refusal, ...unreadable }]);
  await sends.send();
  equal(sends.said, ['done a', 'reached', 'refused b: ', 'reached']);
}

export async function what_somebody_else_pressed_waits_for_them() {
  const queue = queueOf(press('a', ASH, 'call-in', 'other'), press('b', BIRCH, 'check-in'));
  const sends = sender(queue, [null, done]);
  await sends.send();
  equal(keys(queue.tried()), ['b']);
  await sends.later[0]();
  equal(sends.posted, ['b', 'b']);
  equal(keys(queue.all()), ['a']);
}

export async function undoing_a_press_takes_those_that_rest_on_it_along() {
  const queue = queueOf(press('a', ASH, 'call-in'), press('b', BIRCH, 'check-in'), press('c', ASH, 'finish'));
  queue.undo('a');
  equal(keys(queue.all()), ['b']);
  queue.undo('unknown');
  equal(keys(queue.all()), ['b']);
}

export async function undoing_a_later_press_leaves_the_earlier_one() {
  const queue = queueOf(press('a', ASH, 'call-in'), press('b', ASH, 'finish'));
  queue.undo('b');
  equal(keys(queue.all()), ['a']);
}

export async function a_storage_that_cannot_be_read_is_empty() {
  equal(pressQueue(storage('{broken')).all(), []);
  equal(pressQueue(storage('{"not": "a list"}')).all(), []);
}

export async function a_full_storage_refuses_and_keeps_what_it_has() {
  const queue = pressQueue(storage(null, 150));
  queue.add(press('a', ASH, 'call-in'));
  let refused = false;
  try {
    queue.add(press('b', ASH, 'finish'));
  } catch {
    refused = true;
  }
  equal(refused, true);
  equal(keys(queue.all()), ['a']);
}

export async function signing_out_leaves_nothing_behind() {
  const queue = queueOf(press('a', ASH, 'call-in'));
  queue.clear();
  equal(queue.all(), []);
}

const FORMS = [
  { id: ASH, press: 'call-in', lane: '1' },
  { id: BIRCH, press: 'call-in', lane: '1' },
  { id: 'cedar', press: 'call-in', lane: '2' }
];

export async function each_form_becomes_its_next_press() {
  const shown = shownAs(FORMS, [press('a', ASH, 'call-in'), press('b', ASH, 'finish')], true);
  equal(shown[0], { press: 'room-ready', hidden: false });
}

export async function one_in_the_room_hides_the_other_call_in_of_the_same_list() {
  const shown = shownAs(FORMS, [press('a', ASH, 'call-in')], true);
  equal(shown.map((form) => form.hidden), [false, true, false]);
  equal(shownAs(FORMS, [], true).map((form) => form.hidden), [false, false, false]);
}

export async function nothing_follows_the_last_press() {
  const shown = shownAs([{ id: ASH, press: 'room-ready', lane: '1' }], [press('a', ASH, 'room-ready')], true);
  equal(shown, [{ press: 'room-ready', hidden: true }]);
}

export async function a_receptionist_checks_in_and_nothing_more() {
  const forms = [{ id: ASH, press: 'check-in', lane: '1' }];
  equal(shownAs(forms, [press('a', ASH, 'check-in')], false), [{ press: 'check-in', hidden: true }]);
  equal(shownAs(forms, [press('a', ASH, 'check-in')], true), [{ press: 'call-in', hidden: false }]);
}

export async function a_press_of_another_kind_changes_nothing() {
  equal(shownAs(FORMS, [press('a', ASH, 'finish')], true)[0], { press: 'call-in', hidden: false });
}

export async function a_key_is_a_random_uuid_of_version_4() {
  equal(newKey(new Array(16).fill(0)), '00000000-0000-4000-8000-000000000000');
  equal(newKey(new Array(16).fill(255)), 'ffffffff-ffff-4fff-bfff-ffffffffffff');
}
