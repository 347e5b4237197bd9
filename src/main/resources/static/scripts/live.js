/**
 * Keeps a part of the page up to date: the server says that the day has changed, the part is asked for again. Where the
 * server cannot say so, the part is asked for again by itself.
 */

/** Milliseconds. */
const BETWEEN_LOOKS = 15000;
const BEFORE_NEXT_TRY = 60000;
const AFTER_A_FINGER = 50;
const TYPING = 'input:not([type="hidden"]), select, textarea:not([readonly])';

let stream = null;
let opened = false;
let looking = null;
/** Whether the part should have been shown again, but was not. */
let owed = false;
/** Whether a finger or a mouse button is down. */
let held = false;
/** What a person would miss if it changed with the part: what is folded open, where the keyboard is, what stands where. */
let before = { open: [], focus: null, anchor: null };

const part = () => document.querySelector('[data-live]');

/** Whoever is typing or choosing is not disturbed; the part is shown again when they are done. */
function isBusy(region) {
  const at = document.activeElement;
  return region.contains(at) && at.matches(TYPING) && !at.closest('[hx-preserve]');
}

function refresh() {
  const region = part();
  if (!region || !window.htmx) {
    return;
  }
  owed = isBusy(region);
  if (!owed) {
    window.htmx.trigger(region, 'day-changed');
  }
}

function refreshIfOwed() {
  if (owed) {
    refresh();
  }
}

function lookByItself(on) {
  if (on && looking === null) {
    looking = setInterval(refresh, BETWEEN_LOOKS);
  } else if (!on && looking !== null) {
    clearInterval(looking);
    looking = null;
  }
}

function open() {
  const region = part();
  if (!region || stream || !window.EventSource) {
    lookByItself(!window.EventSource);
    return;
  }
  stream = new EventSource(region.dataset.live);
  stream.addEventListener('open', () => {
    lookByItself(false);
    document.documentElement.dataset.follows = 'yes';
    if (opened) {
      refresh();
    }
    opened = true;
  });
  stream.addEventListener('changed', refresh);
  stream.addEventListener('error', () => {
    document.documentElement.dataset.follows = 'no';
    lookByItself(true);
    if (stream?.readyState === EventSource.CLOSED) {
      close();
      setTimeout(open, BEFORE_NEXT_TRY);
    }
  });
}

function close() {
  stream?.close();
  stream = null;
}

// A browser keeps few connections to one place open, so a hidden page gives its own back.
document.addEventListener('visibilitychange', () => {
  if (document.hidden) {
    close();
    lookByItself(false);
  } else {
    open();
  }
});
window.addEventListener('pagehide', close);
window.addEventListener('online', refresh);
document.addEventListener('focusout', () => setTimeout(refreshIfOwed));

// A part that changed under a finger would swallow the press: it waits until the finger is lifted.
document.addEventListener('pointerdown', () => {
  held = true;
}, true);
['pointerup', 'pointercancel'].forEach((end) => {
  document.addEventListener(end, () => {
    held = false;
    setTimeout(refreshIfOwed, AFTER_A_FINGER);
  }, true);
});

const FOCUSABLE = 'a[href]:not([tabindex="-1"]), button, summary, input, select, textarea';
const rowKey = (row) => (row ? row.id || row.dataset.visit : null);
const rowOf = (region, key) => Array.from(region.querySelectorAll('[data-visit], [id]')).find((row) => rowKey(row) === key);

/** Where the keyboard is: in which row, and there on which of those it can be on. */
function focusIn(region) {
  const at = document.activeElement;
  const row = region.contains(at) ? at.closest('[data-visit]') || at.closest('[id]') : null;
  return row ? { id: at.id, row: rowKey(row), index: Array.from(row.querySelectorAll(FOCUSABLE)).indexOf(at) } : null;
}

/** The same place; where that is gone, the first of its row. */
function focusAgain(region, focus) {
  const row = focus && rowOf(region, focus.row);
  const places = row ? Array.from(row.querySelectorAll(FOCUSABLE)) : [];
  const again = (focus && focus.id && document.getElementById(focus.id)) || places[focus?.index] || places[0];
  again?.focus({ preventScroll: true });
}

/** The row that stands uppermost on the screen, and how high. */
function anchorIn(region) {
  const rows = Array.from(region.querySelectorAll('[data-visit]'));
  const first = rows.find((row) => row.getBoundingClientRect().bottom > 0);
  return first ? { row: rowKey(first), top: first.getBoundingClientRect().top } : null;
}

// What was folded open stays so when the part is shown again, the keyboard stays where it was, and no row moves.
document.addEventListener('htmx:beforeSwap', (event) => {
  const region = event.detail.target;
  if (!region.matches('[data-live]')) {
    return;
  }
  if (held) {
    event.detail.shouldSwap = false;
    owed = true;
    return;
  }
  before = {
    open: Array.from(region.querySelectorAll('details[open][id]'), (details) => details.id),
    focus: focusIn(region),
    anchor: window.scrollY > 0 ? anchorIn(region) : null
  };
});
document.addEventListener('htmx:afterSwap', () => {
  const region = part();
  if (!region) {
    return;
  }
  before.open.map((id) => document.getElementById(id)).filter(Boolean).forEach((details) => {
    details.open = true;
  });
  const row = before.anchor && rowOf(region, before.anchor.row);
  if (row) {
    window.scrollBy(0, row.getBoundingClientRect().top - before.anchor.top);
  }
  if (!region.contains(document.activeElement)) {
    focusAgain(region, before.focus);
  }
  before = { open: [], focus: null, anchor: null };
  endUndo();
});

/** A press is offered to be undone for half a minute. */
function endUndo() {
  const bar = document.getElementById('undo-bar');
  if (bar) {
    setTimeout(() => bar.remove(), bar.dataset.until * 1000);
  }
}

// A press that loads the whole page leaves the page where it was, unless it leads to something on it.
document.addEventListener('submit', (event) => {
  if (part()?.contains(event.target)) {
    sessionStorage.setItem('earslot.scroll', `${location.pathname} ${window.scrollY}`);
  }
});
const [where, height] = (sessionStorage.getItem('earslot.scroll') ?? '').split(' ');
sessionStorage.removeItem('earslot.scroll');
if (where === location.pathname && !location.hash) {
  window.scrollTo(0, Number(height));
}

// A date that is chosen is shown at once.
document.getElementById('pick')?.addEventListener('change', (event) => event.target.form.requestSubmit());
document.getElementById('pick-day')?.addEventListener('toggle', (event) => {
  if (event.target.open) {
    document.getElementById('pick').focus();
  }
});

endUndo();
open();
