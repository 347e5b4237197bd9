/** On every page: the token against forged requests, what could not be fetched, and small comforts where scripts run. */
import { csrfToken } from './csrf.js';
import './flag-strip.js';
import './menus.js';
import './wide.js';
import { pressQueue } from './press-queue.js';

document.addEventListener('htmx:configRequest', (event) => {
  event.detail.headers['X-CSRF-TOKEN'] = csrfToken();
});

// Presses that wait for a connection do not stay in the browser of somebody who signs out.
document.addEventListener('submit', (event) => {
  if (!event.target.matches('form.sign-out')) {
    return;
  }
  const presses = pressQueue(localStorage);
  if (presses.all().length > 0 && !window.confirm(event.target.dataset.unsent)) {
    event.preventDefault();
    return;
  }
  presses.clear();
});

document.addEventListener('click', (event) => {
  if (event.target.closest('[data-print]')) {
    window.print();
  }
});

// The key "/" leads to the search for a patient, except while something is being typed.
document.addEventListener('keydown', (event) => {
  const find = document.getElementById('find');
  const typing = event.target.closest('input, textarea, select, [contenteditable]');
  if (event.key !== '/' || event.ctrlKey || event.metaKey || event.altKey || typing || !find) {
    return;
  }
  event.preventDefault();
  find.focus();
  find.select();
});

// Copies a text; where the browser does not let a script do so, the text stands selected.
document.addEventListener('click', (event) => {
  const button = event.target.closest('[data-copy]');
  if (!button) {
    return;
  }
  const text = document.getElementById(button.dataset.copy);
  const say = () => {
    button.textContent = button.dataset.copied;
  };
  text.focus();
  text.select();
  if (navigator.clipboard) {
    navigator.clipboard.writeText(text.value).then(say, () => {});
  } else if (document.execCommand('copy')) {
    say();
  }
});

/** Says why part of a page could not be fetched, at the top of the page and read aloud. */
function tellTrouble(words) {
  let trouble = document.getElementById('trouble');
  if (!trouble) {
    trouble = document.createElement('p');
    trouble.id = 'trouble';
    trouble.className = 'warning';
    trouble.setAttribute('role', 'alert');
    document.getElementById('main').prepend(trouble);
  }
  trouble.textContent = words;
  return trouble;
}

/** The session has ended: the page stays as it is, and says so until there is a new one. */
function tellSignedOut() {
  const signedOut = document.querySelector('meta[name="signed-out"]');
  const link = document.createElement('a');
  link.href = signedOut.dataset.to;
  link.textContent = signedOut.dataset.words;
  tellTrouble(`${signedOut.content} `).append(link);
}

document.addEventListener('htmx:responseError', (event) => {
  const answer = event.detail.xhr;
  if (answer.status === 401) {
    tellSignedOut();
    return;
  }
  const page = new DOMParser().parseFromString(answer.responseText, 'text/html');
  const said = page.querySelector('main section > p');
  tellTrouble(said ? said.textContent : `${answer.status} ${answer.statusText}`);
});

document.addEventListener('htmx:sendError', () => {
  tellTrouble(document.querySelector('meta[name="no-connection"]').content);
});

document.addEventListener('htmx:afterSwap', () => {
  document.getElementById('trouble')?.remove();
});
