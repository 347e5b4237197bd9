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
/** The ids of what was folded open. */
let openBefore = [];

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

// What was folded open stays so when the part is shown again.
document.addEventListener('htmx:beforeSwap', (event) => {
  if (held && event.detail.target.matches('[data-live]')) {
    event.detail.shouldSwap = false;
    owed = true;
    return;
  }
  openBefore = Array.from(document.querySelectorAll('[data-live] details[open][id]'), (details) => details.id);
});
document.addEventListener('htmx:afterSwap', () => {
  openBefore.map((id) => document.getElementById(id)).filter(Boolean).forEach((details) => {
    details.open = true;
  });
});

open();
