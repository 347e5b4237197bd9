// The presses of the running list. Each is written down in this browser with a key of its own before it is sent, and
// struck off when the server has answered: so a press made without a connection is sent when there is one again, once,
// with the time it was made. What is written down names nobody.
(function () {
  var STORE = 'earslot.presses';
  var PATIENCE = 8000;
  var AGAIN = 5000;
  var NEXT = { 'check-in': 'call-in', 'call-in': 'finish', 'finish': 'room-ready' };
  var SAYS = { 'check-in': 'sayCheckIn', 'call-in': 'sayCallIn', 'finish': 'sayFinish', 'room-ready': 'sayRoomReady' };
  var sending = false;
  var retry = null;
  var trouble = '';

  function place() {
    return document.getElementById('kept');
  }

  function me() {
    return place().dataset.who;
  }

  function kept() {
    try {
      var list = JSON.parse(localStorage.getItem(STORE) || '[]');
      return Array.isArray(list) ? list : [];
    } catch (e) {
      return [];
    }
  }

  function keep(list) {
    localStorage.setItem(STORE, JSON.stringify(list));
  }

  function drop(key) {
    keep(kept().filter(function (press) { return press.key !== key; }));
  }

  function newKey() {
    var bytes = crypto.getRandomValues(new Uint8Array(16));
    bytes[6] = (bytes[6] & 15) | 64;
    bytes[8] = (bytes[8] & 63) | 128;
    var hex = Array.from(bytes, function (byte) { return byte.toString(16).padStart(2, '0'); }).join('');
    return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
  }

  function line(words) {
    var p = document.createElement('p');
    p.textContent = words;
    return p;
  }

  function clock(millis) {
    var time = new Date(millis);
    return String(time.getHours()).padStart(2, '0') + ':' + String(time.getMinutes()).padStart(2, '0');
  }

  function list(heading, presses) {
    var part = document.createDocumentFragment();
    if (presses.length > 0) {
      part.appendChild(line(heading));
      var ul = document.createElement('ul');
      presses.forEach(function (press) {
        var li = document.createElement('li');
        li.textContent = clock(press.at) + ' ' + place().dataset[SAYS[press.what]] + ' (' + press.label + ')';
        ul.appendChild(li);
      });
      part.appendChild(ul);
    }
    return part;
  }

  // Only what could not be sent at once is shown.
  function show() {
    var at = place();
    var waiting = kept().filter(function (press) { return press.tried; });
    var mine = waiting.filter(function (press) { return press.who === me(); });
    var others = waiting.filter(function (press) { return press.who !== me(); });
    at.replaceChildren();
    if (mine.length > 0) {
      at.appendChild(line(trouble || at.dataset.saySending));
    }
    at.appendChild(list(at.dataset.sayKept, mine));
    at.appendChild(list(at.dataset.saySomeoneElse, others));
    at.hidden = waiting.length === 0;
    mine.forEach(moveOn);
  }

  // While a press waits, its button is already the next one, so that work goes on.
  function moveOn(press) {
    document.querySelectorAll('form[data-press]').forEach(function (form) {
      var button = form.querySelector('button');
      if (form.action.indexOf('/appointments/' + press.id + '/') < 0 || form.dataset.press !== press.what || !button) {
        return;
      }
      var next = NEXT[press.what];
      if (!next || (next !== 'check-in' && place().dataset.chair !== 'yes')) {
        form.remove();
        return;
      }
      form.dataset.press = next;
      form.action = form.action.replace(/[^/]*$/, next);
      button.textContent = place().dataset[SAYS[next]];
      button.removeAttribute('aria-label');
      button.disabled = false;
    });
  }

  // All of mine wait for the same connection.
  function markMine() {
    keep(kept().map(function (press) {
      press.tried = press.tried || press.who === me();
      return press;
    }));
  }

  function post(press) {
    var token = document.querySelector('meta[name="_csrf"]');
    var gone = new AbortController();
    var timer = setTimeout(function () { gone.abort(); }, PATIENCE);
    return fetch(press.to, {
      method: 'POST',
      headers: { 'X-CSRF-TOKEN': token ? token.content : '', 'HX-Request': 'true', 'Accept': 'application/json' },
      body: new URLSearchParams({ key: press.key, ageMillis: String(Math.max(0, Math.round(Date.now() - press.at))) }),
      redirect: 'manual',
      signal: gone.signal
    }).finally(function () { clearTimeout(timer); });
  }

  function refresh() {
    var region = document.querySelector('[data-live]');
    if (region && window.htmx) {
      window.htmx.trigger(region, 'day-changed');
    }
  }

  // Whether the press is off the list: done or refused for good.
  function answered(press, answer) {
    if (answer.status === 401 || answer.status === 403 || answer.type === 'opaqueredirect') {
      trouble = place().dataset.saySignIn;
      markMine();
      return Promise.resolve(false);
    }
    if (answer.status >= 500) {
      markMine();
      return Promise.resolve(false);
    }
    return answer.json().catch(function () { return { done: answer.ok, said: [] }; }).then(function (body) {
      drop(press.key);
      trouble = '';
      if (!body.done) {
        window.earslotTrouble(place().dataset.sayRefused + ' ' + (body.said || []).join(' '));
      }
      return true;
    });
  }

  function next() {
    return kept().filter(function (press) { return press.who === me(); })[0];
  }

  function send() {
    var press = next();
    if (sending || !press) {
      show();
      return;
    }
    sending = true;
    post(press).then(function (answer) {
      return answered(press, answer);
    }, function () {
      trouble = '';
      markMine();
      return false;
    }).then(function (off) {
      sending = false;
      show();
      if (off) {
        refresh();
        send();
      } else {
        clearTimeout(retry);
        retry = setTimeout(send, AGAIN);
      }
    });
  }

  document.addEventListener('submit', function (event) {
    var form = event.target;
    if (!form.matches('form[data-press]') || event.defaultPrevented) {
      return;
    }
    var id = form.action.split('/').slice(-2)[0];
    var press = {
      key: newKey(), id: id, what: form.dataset.press, to: form.action, label: form.dataset.label || '', who: me(), at: Date.now()
    };
    try {
      keep(kept().concat([press]));
    } catch (e) {
      return;
    }
    event.preventDefault();
    var button = form.querySelector('button');
    if (button) {
      button.disabled = true;
    }
    send();
  });

  window.addEventListener('online', send);
  window.addEventListener('storage', show);
  document.addEventListener('htmx:afterSwap', show);
  send();
})();
