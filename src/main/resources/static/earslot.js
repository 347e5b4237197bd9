// Adds the token against forged requests to every htmx exchange, and small comforts where scripts run.
document.addEventListener('htmx:configRequest', function (event) {
  var token = document.querySelector('meta[name="_csrf"]');
  if (token) {
    event.detail.headers['X-CSRF-TOKEN'] = token.content;
  }
});

// A form that is on its way is not kept as a draft as well.
var onItsWay = false;
document.addEventListener('submit', function (event) {
  onItsWay = onItsWay || event.target.id === 'referral';
});
window.addEventListener('pageshow', function () {
  onItsWay = false;
});
document.addEventListener('htmx:beforeRequest', function (event) {
  if (onItsWay && event.target.id === 'draft') {
    event.preventDefault();
  }
});

// Presses that wait for a connection do not stay in the browser of somebody who signs out.
document.addEventListener('submit', function (event) {
  if (!event.target.matches('form.sign-out')) {
    return;
  }
  var stored = localStorage.getItem('earslot.presses');
  if (stored && stored !== '[]' && !window.confirm(event.target.dataset.unsent)) {
    event.preventDefault();
    return;
  }
  localStorage.removeItem('earslot.presses');
});

document.addEventListener('click', function (event) {
  var button = event.target.closest('[data-print]');
  if (button) {
    window.print();
  }
});

// Copies a text; where the browser does not let a script do so, the text stands selected.
document.addEventListener('click', function (event) {
  var button = event.target.closest('[data-copy]');
  if (!button) {
    return;
  }
  var text = document.getElementById(button.dataset.copy);
  text.focus();
  text.select();
  function say() {
    button.textContent = button.dataset.copied;
  }
  if (navigator.clipboard) {
    navigator.clipboard.writeText(text.value).then(say, function () {});
  } else if (document.execCommand('copy')) {
    say();
  }
});

// Why part of a page could not be fetched, at the top of the page and read aloud.
function tellTrouble(words) {
  var trouble = document.getElementById('trouble');
  if (!trouble) {
    trouble = document.createElement('p');
    trouble.id = 'trouble';
    trouble.className = 'warning';
    trouble.setAttribute('role', 'alert');
    document.getElementById('main').prepend(trouble);
  }
  trouble.textContent = words;
}

// The session has ended: the page stays as it is, and says so until there is a new one.
function tellSignedOut() {
  var signedOut = document.querySelector('meta[name="signed-out"]');
  tellTrouble(signedOut.content + ' ');
  var link = document.createElement('a');
  link.href = signedOut.dataset.to;
  link.textContent = signedOut.dataset.words;
  document.getElementById('trouble').appendChild(link);
}

document.addEventListener('htmx:responseError', function (event) {
  if (event.detail.xhr.status === 401) {
    tellSignedOut();
    return;
  }
  var page = new DOMParser().parseFromString(event.detail.xhr.responseText, 'text/html');
  var said = page.querySelector('main section > p');
  tellTrouble(said ? said.textContent : event.detail.xhr.status + ' ' + event.detail.xhr.statusText);
});

document.addEventListener('htmx:sendError', function () {
  tellTrouble(document.querySelector('meta[name="no-connection"]').content);
});

document.addEventListener('htmx:afterSwap', function () {
  var trouble = document.getElementById('trouble');
  if (trouble) {
    trouble.remove();
  }
});
