/**
 * Puts the question that would narrow the estimate most first among the length questions: moved there, not only drawn
 * there, so that the keyboard meets it first. Nothing moves under a hand: only while neither the focus nor the pointer is
 * in that part of the form. Without scripts the questions keep their order.
 */
function follow(part, first, estimate) {
  let moved = null;
  let pointerInside = false;

  function fieldOf(finding) {
    const name = finding.replace(/\.(.)/, (dotted, letter) => letter.toUpperCase());
    return part.querySelector(`[name="${name}"]`)?.closest('.field');
  }

  function putBack() {
    if (moved) {
      moved.place.replaceWith(moved.field);
      moved = null;
    }
  }

  function next() {
    return Array.from(estimate.querySelectorAll('[data-finding]'), (ask) => ({
      field: fieldOf(ask.dataset.finding),
      ask: ask.dataset
    })).find((question) => question.field);
  }

  function arrange() {
    const top = next();
    const already = moved && top && moved.field === top.field;
    if (already || pointerInside || part.contains(document.activeElement)) {
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
    first.append(top.field);
  }

  part.addEventListener('pointerenter', () => {
    pointerInside = true;
  });
  part.addEventListener('pointerleave', () => {
    pointerInside = false;
    arrange();
  });
  part.addEventListener('focusout', () => setTimeout(arrange));
  document.addEventListener('htmx:afterSwap', (event) => {
    if (event.target === estimate) {
      arrange();
    }
  });
}

const parts = ['length', 'ask-first', 'estimate'].map((id) => document.getElementById(id));
if (parts.every(Boolean)) {
  follow(...parts);
}
