// Puts the question that would narrow the estimate most first among the length questions: moved there, not only drawn
// there, so that the keyboard meets it first. Nothing moves under a hand: only while neither the focus nor the pointer is
// in that part of the form. Without scripts the questions keep their order.
(function () {
  var part = document.getElementById('length');
  var first = document.getElementById('ask-first');
  var estimate = document.getElementById('estimate');
  if (!part || !first || !estimate) {
    return;
  }
  var moved = null;
  var pointerInside = false;

  function fieldOf(finding) {
    var name = finding.replace(/\.(.)/, function (all, letter) { return letter.toUpperCase(); });
    var control = part.querySelector('[name="' + name + '"]');
    return control && control.closest('.field');
  }

  function putBack() {
    if (moved) {
      moved.place.replaceWith(moved.field);
      moved = null;
    }
  }

  function next() {
    var asks = estimate.querySelectorAll('[data-finding]');
    for (var i = 0; i < asks.length; i++) {
      var field = fieldOf(asks[i].dataset.finding);
      if (field) {
        return { field: field, ask: asks[i].dataset };
      }
    }
    return null;
  }

  function arrange() {
    var top = next();
    if ((moved && top && moved.field === top.field) || pointerInside || part.contains(document.activeElement)) {
      return;
    }
    putBack();
    first.hidden = !top;
    if (!top) {
      return;
    }
    moved = { field: top.field, place: document.createComment('') };
    top.field.replaceWith(moved.place);
    first.querySelector('[data-what]').textContent = top.ask.ask;
    first.querySelector('[data-who]').textContent = top.ask.who;
    first.appendChild(top.field);
  }

  part.addEventListener('pointerenter', function () { pointerInside = true; });
  part.addEventListener('pointerleave', function () { pointerInside = false; arrange(); });
  part.addEventListener('focusout', function () { setTimeout(arrange, 0); });
  document.addEventListener('htmx:afterSwap', function (event) {
    if (event.target === estimate) {
      arrange();
    }
  });
})();
