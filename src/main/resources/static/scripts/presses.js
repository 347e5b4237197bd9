/**
 * The presses of a running day on the page. Each is written down in this browser with a key of its own before it is sent,
 * so that a press made without a connection is sent when there is one again, once, with the time it was made.
 */
import { csrfToken } from './csrf.js';
import { newKey, pressQueue, pressSender, shownAs } from './press-queue.js';

/** Milliseconds to wait for an answer, before the next try, and for which what was sent is named. */
const PATIENCE = 8000;
const AGAIN = 5000;
const SENT_SHOWN = 10000;
const SAYS = { 'check-in': 'sayCheckIn', 'call-in': 'sayCallIn', 'finish': 'sayFinish', 'room-ready': 'sayRoomReady' };

const place = document.getElementById('kept');
const say = (name) => place.dataset[name];
const me = say('who');

const queue = pressQueue(localStorage);
let retry = null;
let trouble = '';
/** Done by the server, but not yet in what the page shows. */
let done = [];
/** Named for a while after they were sent. */
let sent = [];
/** Why presses were refused, by appointment. */
const refused = new Map();

const sender = pressSender(queue, me, post, again, {
  changed: show,
  waits: (signedOut) => {
    trouble = signedOut ? say('saySignIn') : '';
  },
  reached: refresh,
  done: (press, waited) => {
    trouble = '';
    done.push(press);
    if (waited) {
      nameSent(press);
    }
  },
  // A refusal stands in the row that was pressed until it is dismissed or the row is pressed again.
  refused: (press, why) => {
    trouble = '';
    refused.set(press.id, { words: `${say('sayRefused')} ${why}`, announced: false });
  }
});

function element(name, words) {
  const made = document.createElement(name);
  made.textContent = words;
  return made;
}

function button(words, label, press) {
  const made = element('button', words);
  made.type = 'button';
  made.className = 'quiet';
  made.setAttribute('aria-label', label);
  made.addEventListener('click', press);
  return made;
}

function words(press) {
  const time = new Date(press.at);
  const clock = [time.getHours(), time.getMinutes()].map((part) => String(part).padStart(2, '0')).join(':');
  return `${clock} ${say(SAYS[press.what])} (${press.label})`;
}

function list(heading, presses, undone) {
  const part = document.createDocumentFragment();
  if (presses.length > 0) {
    const ul = document.createElement('ul');
    presses.forEach((press) => {
      const li = element('li', `${words(press)} `);
      if (undone) {
        li.append(button(say('sayUndo'), `${say('sayUndo')}: ${words(press)}`, () => undone(press)));
      }
      ul.append(li);
    });
    part.append(element('p', heading), ul);
  }
  return part;
}

/** Only what could not be sent at once is shown, and what was sent after that. */
function show() {
  const waiting = queue.tried();
  const mine = waiting.filter((press) => press.who === me);
  place.replaceChildren();
  if (mine.length > 0) {
    place.append(element('p', trouble || say('saySending')));
  }
  place.append(
    list(say('sayKept'), mine, undo),
    list(say('saySomeoneElse'), waiting.filter((press) => press.who !== me)),
    list(say('saySent'), sent)
  );
  place.hidden = waiting.length + sent.length === 0;
  overlay(done.concat(mine));
  showRefusals();
}

/** The page as it is once these presses are done. */
function overlay(presses) {
  const forms = Array.from(document.querySelectorAll('form[data-press]'));
  forms.forEach(restore);
  const now = shownAs(
    forms.map((form) => ({ id: idOf(form), press: form.dataset.press, lane: form.dataset.lane })),
    presses,
    say('chair') === 'yes'
  );
  forms.forEach((form, at) => {
    if (form.dataset.press !== now[at].press) {
      moveOn(form, now[at].press);
    }
    form.querySelector('button').disabled = isInFlight(form);
    form.hidden = now[at].hidden;
  });
}

function idOf(form) {
  return form.getAttribute('action').split('/').slice(-2)[0];
}

/** A check-in says with its own button that nothing is new. */
function addressOf(form) {
  const nothingNew = form.dataset.press === 'check-in' && form.querySelector('[name=nothingNew]');
  return form.action + (nothingNew ? '?nothingNew=yes' : '');
}

function isInFlight(form) {
  return queue.all().some((press) => sender.isSending(press.key) && press.id === idOf(form)
    && press.what === form.dataset.press);
}

function moveOn(form, press) {
  const pressed = form.querySelector('button');
  form.dataset.was = JSON.stringify({
    press: form.dataset.press,
    action: form.getAttribute('action'),
    says: pressed.textContent,
    label: pressed.getAttribute('aria-label')
  });
  form.dataset.press = press;
  form.setAttribute('action', form.getAttribute('action').replace(/[^/]*$/, press));
  pressed.textContent = say(SAYS[press]);
  pressed.removeAttribute('aria-label');
  head(form, press === 'finish');
}

/** A card is headed by where its patient is. */
function head(form, inRoom) {
  const heading = form.closest('.card')?.querySelector('[data-in-room]');
  if (heading) {
    heading.dataset.was = heading.dataset.was ?? heading.textContent;
    heading.textContent = inRoom ? heading.dataset.inRoom : heading.dataset.was;
  }
}

function restore(form) {
  if (!form.dataset.was) {
    return;
  }
  const was = JSON.parse(form.dataset.was);
  const pressed = form.querySelector('button');
  form.dataset.press = was.press;
  form.setAttribute('action', was.action);
  pressed.textContent = was.says;
  if (was.label) {
    pressed.setAttribute('aria-label', was.label);
  }
  delete form.dataset.was;
  head(form, false);
}

/** Takes a press back that was not sent yet. */
function undo(press) {
  if (!sender.isSending(press.key)) {
    queue.undo(press.key);
    show();
  }
}

function dismiss(id) {
  refused.delete(id);
  showRefusals();
}

function showRefusals() {
  document.querySelectorAll('.press-refused').forEach((old) => old.remove());
  refused.forEach((refusal, id) => {
    const note = document.createElement('div');
    note.className = 'warning press-refused';
    note.append(element('span', refusal.words), button('✕', say('sayDismiss'), () => dismiss(id)));
    if (!refusal.announced) {
      note.setAttribute('role', 'alert');
      refusal.announced = true;
    }
    rowOf(id).append(note);
  });
}

function rowOf(id) {
  const row = document.querySelector(`[data-visit="${CSS.escape(id)}"]`);
  if (!row) {
    place.hidden = false;
    return place;
  }
  return row.matches('tr') ? row.lastElementChild : row;
}

function post(press) {
  const gone = new AbortController();
  const timer = setTimeout(() => gone.abort(), PATIENCE);
  return fetch(press.to, {
    method: 'POST',
    headers: { 'X-CSRF-TOKEN': csrfToken(), 'HX-Request': 'true', 'Accept': 'application/json' },
    body: new URLSearchParams({ key: press.key, ageMillis: String(Math.max(0, Math.round(Date.now() - press.at))) }),
    redirect: 'manual',
    signal: gone.signal
  }).finally(() => clearTimeout(timer));
}

function again(send) {
  clearTimeout(retry);
  retry = setTimeout(send, AGAIN);
}

/** Asks for the page's part again. A request that was under way may show what was before: it is given up. */
function refresh() {
  const region = document.querySelector('[data-live]');
  if (region && window.htmx) {
    window.htmx.trigger(region, 'htmx:abort');
    window.htmx.trigger(region, 'day-changed');
  }
}

function nameSent(press) {
  sent.push(press);
  setTimeout(() => {
    sent = sent.filter((each) => each !== press);
    show();
  }, SENT_SHOWN);
}

document.addEventListener('submit', (event) => {
  const form = event.target;
  if (!form.matches('form[data-press]') || event.defaultPrevented) {
    return;
  }
  const press = {
    key: newKey(crypto.getRandomValues(new Uint8Array(16))),
    id: idOf(form),
    what: form.dataset.press,
    to: addressOf(form),
    label: form.dataset.label ?? '',
    who: me,
    at: Date.now()
  };
  try {
    queue.add(press);
  } catch {
    // Nothing more can be written down: the form is sent as it is without scripts.
    return;
  }
  event.preventDefault();
  dismiss(press.id);
  form.querySelector('button').disabled = true;
  sender.send();
});

// What was asked for after a press was done shows it.
let asked = [];
document.addEventListener('htmx:beforeSend', (event) => {
  if (event.detail.elt.matches('[data-live]')) {
    asked = done.slice();
  }
});
document.addEventListener('htmx:afterSwap', () => {
  done = done.filter((press) => !asked.includes(press));
  asked = [];
  show();
});

window.addEventListener('online', () => sender.send());
window.addEventListener('storage', show);
sender.send();
