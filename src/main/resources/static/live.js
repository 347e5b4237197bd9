// Keeps a part of the page up to date: the server says that the day has changed, the part is asked for again. Where the
// server cannot say so, the part is asked for again by itself.
(function () {
  var BETWEEN_LOOKS = 15000;
  var BEFORE_NEXT_TRY = 60000;
  var stream = null;
  var opened = false;
  var looking = null;
  var owed = false;

  function part() {
    return document.querySelector('[data-live]');
  }

  // Whoever is typing or choosing is not disturbed; the part is shown again when they are done.
  function isBusy(region) {
    var at = document.activeElement;
    return region.contains(at) && at.matches('input:not([type="hidden"]), select, textarea:not([readonly])') && !at.closest('[hx-preserve]');
  }

  function refresh() {
    var region = part();
    if (!region || !window.htmx) {
      return;
    }
    owed = isBusy(region);
    if (!owed) {
      window.htmx.trigger(region, 'day-changed');
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
    var region = part();
    if (!region || stream || !window.EventSource) {
      lookByItself(!window.EventSource);
      return;
    }
    stream = new EventSource(region.dataset.live);
    stream.addEventListener('open', function () {
      lookByItself(false);
      document.documentElement.dataset.follows = 'yes';
      if (opened) {
        refresh();
      }
      opened = true;
    });
    stream.addEventListener('changed', refresh);
    stream.addEventListener('error', function () {
      document.documentElement.dataset.follows = 'no';
      lookByItself(true);
      if (stream && stream.readyState === EventSource.CLOSED) {
        close();
        setTimeout(open, BEFORE_NEXT_TRY);
      }
    });
  }

  function close() {
    if (stream) {
      stream.close();
      stream = null;
    }
  }

  // A browser keeps few connections to one place open, so a hidden page gives its own back.
  document.addEventListener('visibilitychange', function () {
    if (document.hidden) {
      close();
      lookByItself(false);
    } else {
      open();
    }
  });
  window.addEventListener('pagehide', close);
  window.addEventListener('online', refresh);

  document.addEventListener('focusout', function () {
    setTimeout(function () {
      if (owed) {
        refresh();
      }
    });
  });

  // A part that changed under a finger would swallow the press: it waits until the finger is lifted.
  var held = false;
  document.addEventListener('pointerdown', function () {
    held = true;
  }, true);
  ['pointerup', 'pointercancel'].forEach(function (end) {
    document.addEventListener(end, function () {
      held = false;
      setTimeout(function () {
        if (owed) {
          refresh();
        }
      }, 50);
    }, true);
  });

  // What was folded open stays so when the part is shown again.
  var openBefore = [];
  document.addEventListener('htmx:beforeSwap', function (event) {
    if (held && event.detail.target.matches('[data-live]')) {
      event.detail.shouldSwap = false;
      owed = true;
      return;
    }
    openBefore = Array.from(document.querySelectorAll('[data-live] details[open][id]'), function (details) {
      return details.id;
    });
  });
  document.addEventListener('htmx:afterSwap', function () {
    openBefore.forEach(function (id) {
      var details = document.getElementById(id);
      if (details) {
        details.open = true;
      }
    });
  });

  open();
})();
