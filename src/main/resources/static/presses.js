// The presses of the running list. Each is written down in this browser with a key of its own before it is sent, and
// struck off when the server has answered: so a press made without a connection is sent when there is one again, once,
// with the time it was made. What is written down names nobody.
(function () {
  var STORE = 'earslot.presses';
  var PATIENCE = 8000;
  var AGAIN = 5000;
  var SENT_SHOWN = 10000;
  var NEXT = { 'check-in': 'call-in', 'call-in': 'finish', 'finish': 'room-ready' };
  var SAYS = { 'check-in': 'sayCheckIn', 'call-in': 'sayCallIn', 'finish': 'sayFinish', 'room-ready': 'sayRoomReady' };
  var inFlight = null;
  var retry = null;
  var trouble = '';
  // Done by the server, but not yet in what the page shows.
  var done = [];
  // Named for a while after they were sent.
  var sent = [];
  // Why presses were refused, by appointment.
  var refused = {};

  function place() {
    return document.getElementById('kept');
  }

  function say(name) {
    return place().dataset[name];
  }

  function me() {
    return say('who');
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

  function element(name, words) {
    var made = document.createElement(name);
    made.textContent = words;
    return made;
  }

  function button(words, label, press) {
    var made = element('button', words);
    made.type = 'button';
    made.className = 'quiet';
    made.setAttribute('aria-label', label);
    made.addEventListener('click', press);
    return made;
  }

  function clock(millis) {
    var time = new Date(millis);
    return String(time.getHours()).padStart(2, '0') + ':' + String(time.getMinutes()).padStart(2, '0');
  }

  function words(press) {
    return clock(press.at) + ' ' + say(SAYS[press.what]) + ' (' + press.label + ')';
  }

  function list(heading, presses, undone) {
    var part = document.createDocumentFragment();
    if (presses.length > 0) {
      part.appendChild(element('p', heading));
      var ul = document.createElement('ul');
      presses.forEach(function (press) {
        var li = element('li', words(press) + ' ');
        if (undone) {
          li.appendChild(button(say('sayUndo'), say('sayUndo') + ': ' + words(press), function () { undone(press); }));
        }
        ul.appendChild(li);
      });
      part.appendChild(ul);
    }
    return part;
  }

  // Only what could not be sent at once is shown, and what was sent after that.
  function show() {
    var at = place();
    var waiting = kept().filter(function (press) { return press.tried; });
    var mine = waiting.filter(function (press) { return press.who === me(); });
    var others = waiting.filter(function (press) { return press.who !== me(); });
    at.replaceChildren();
    if (mine.length > 0) {
      at.appendChild(element('p', trouble || say('saySending')));
    }
    at.appendChild(list(say('sayKept'), mine, undo));
    at.appendChild(list(say('saySomeoneElse'), others));
    at.appendChild(list(say('saySent'), sent));
    at.hidden = waiting.length + sent.length === 0;
    overlay(done.concat(mine));
    showRefusals();
  }

  // The page as it is once these presses are done: each form of a press is its next one already, so that work goes on,
  // and nobody can be called in while somebody else is in the room.
  function overlay(presses) {
    forms().forEach(restore);
    presses.forEach(function (press) {
      forms().forEach(function (form) {
        if (idOf(form) === press.id && form.dataset.press === press.what) {
          moveOn(form);
        }
      });
    });
    forms().forEach(function (form) {
      form.querySelector('button').disabled = isInFlight(form);
      form.hidden = form.dataset.over === 'yes' || (form.dataset.press === 'call-in' && someoneElseIsInRoom(form));
    });
  }

  function forms() {
    return Array.from(document.querySelectorAll('form[data-press]'));
  }

  function idOf(form) {
    return form.getAttribute('action').split('/').slice(-2)[0];
  }

  // A check-in says with its own button that nothing is new.
  function addressOf(form) {
    var nothingNew = form.dataset.press === 'check-in' && form.querySelector('[name=nothingNew]');
    return form.action + (nothingNew ? '?nothingNew=yes' : '');
  }

  function isInFlight(form) {
    return kept().some(function (press) {
      return press.key === inFlight && press.id === idOf(form) && press.what === form.dataset.press;
    });
  }

  function someoneElseIsInRoom(form) {
    return forms().some(function (other) {
      return other.dataset.press === 'finish' && other.dataset.over !== 'yes'
          && other.dataset.lane === form.dataset.lane && idOf(other) !== idOf(form);
    });
  }

  function moveOn(form) {
    var pressed = form.querySelector('button');
    if (!form.dataset.was) {
      form.dataset.was = JSON.stringify({
        press: form.dataset.press, action: form.getAttribute('action'), says: pressed.textContent, label: pressed.getAttribute('aria-label')
      });
    }
    var next = NEXT[form.dataset.press];
    if (!next || (next !== 'check-in' && say('chair') !== 'yes')) {
      form.dataset.over = 'yes';
      return;
    }
    form.dataset.press = next;
    form.setAttribute('action', form.getAttribute('action').replace(/[^/]*$/, next));
    pressed.textContent = say(SAYS[next]);
    pressed.removeAttribute('aria-label');
    head(form, next === 'finish');
  }

  // A card is headed by where its patient is.
  function head(form, inRoom) {
    var card = form.closest('.card');
    var heading = card && card.querySelector('[data-in-room]');
    if (heading) {
      heading.dataset.was = heading.dataset.was || heading.textContent;
      heading.textContent = inRoom ? heading.dataset.inRoom : heading.dataset.was;
    }
  }

  function restore(form) {
    if (form.dataset.was) {
      var was = JSON.parse(form.dataset.was);
      var pressed = form.querySelector('button');
      form.dataset.press = was.press;
      form.setAttribute('action', was.action);
      pressed.textContent = was.says;
      if (was.label) {
        pressed.setAttribute('aria-label', was.label);
      }
      delete form.dataset.was;
      delete form.dataset.over;
      head(form, false);
    }
  }

  // Takes a press back that was not sent yet, and those of the same visit that rest on it.
  function undo(press) {
    if (inFlight === press.key) {
      return;
    }
    var all = kept();
    var from = all.findIndex(function (each) { return each.key === press.key; });
    if (from >= 0) {
      keep(all.filter(function (each, at) { return at < from || each.id !== press.id; }));
    }
    show();
  }

  // A refusal stands in the row that was pressed until it is dismissed or the row is pressed again.
  function refuse(press, why) {
    refused[press.id] = { words: say('sayRefused') + ' ' + why, announced: false };
  }

  function dismiss(id) {
    delete refused[id];
    showRefusals();
  }

  function showRefusals() {
    document.querySelectorAll('.press-refused').forEach(function (old) { old.remove(); });
    Object.keys(refused).forEach(function (id) {
      var note = document.createElement('div');
      note.className = 'warning press-refused';
      note.appendChild(element('span', refused[id].words));
      note.appendChild(button('✕', say('sayDismiss'), function () { dismiss(id); }));
      if (!refused[id].announced) {
        note.setAttribute('role', 'alert');
        refused[id].announced = true;
      }
      rowOf(id).appendChild(note);
    });
  }

  function rowOf(id) {
    var row = document.querySelector('[data-visit="' + CSS.escape(id) + '"]');
    if (!row) {
      place().hidden = false;
      return place();
    }
    return row.matches('tr') ? row.lastElementChild : row;
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

  // Asks for the page's part again. A request that was under way may show what was before: it is given up.
  function refresh() {
    var region = document.querySelector('[data-live]');
    if (region && window.htmx) {
      window.htmx.trigger(region, 'htmx:abort');
      window.htmx.trigger(region, 'day-changed');
    }
  }

  // Whether the press is off the list: done or refused for good.
  function answered(press, answer) {
    if (answer.status === 401 || answer.status === 403 || answer.type === 'opaqueredirect') {
      trouble = say('saySignIn');
      markMine();
      return Promise.resolve(false);
    }
    if (answer.status >= 500) {
      markMine();
      return Promise.resolve(false);
    }
    return answer.json().catch(function () { return { done: answer.ok, said: [] }; }).then(function (body) {
      var waited = kept().some(function (each) { return each.key === press.key && each.tried; });
      drop(press.key);
      trouble = '';
      if (!body.done) {
        refuse(press, (body.said || []).join(' '));
      } else {
        done.push(press);
        if (waited) {
          nameSent(press);
        }
      }
      return true;
    });
  }

  function nameSent(press) {
    sent.push(press);
    setTimeout(function () {
      sent = sent.filter(function (each) { return each !== press; });
      show();
    }, SENT_SHOWN);
  }

  function next() {
    return kept().filter(function (press) { return press.who === me(); })[0];
  }

  function send() {
    var press = next();
    if (inFlight || !press) {
      show();
      return;
    }
    inFlight = press.key;
    post(press).then(function (answer) {
      return answered(press, answer);
    }, function () {
      trouble = '';
      markMine();
      return false;
    }).then(function (off) {
      inFlight = null;
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
    var press = {
      key: newKey(), id: idOf(form), what: form.dataset.press, to: addressOf(form), label: form.dataset.label || '', who: me(), at: Date.now()
    };
    try {
      keep(kept().concat([press]));
    } catch (e) {
      return;
    }
    event.preventDefault();
    dismiss(press.id);
    var pressed = form.querySelector('button');
    if (pressed) {
      pressed.disabled = true;
    }
    send();
  });

  // What was asked for after a press was done shows it.
  var asked = [];
  document.addEventListener('htmx:beforeSend', function (event) {
    if (event.detail.elt.matches('[data-live]')) {
      asked = done.slice();
    }
  });
  document.addEventListener('htmx:afterSwap', function () {
    done = done.filter(function (press) { return asked.indexOf(press) < 0; });
    asked = [];
    show();
  });

  window.addEventListener('online', send);
  window.addEventListener('storage', show);
  send();
})();
