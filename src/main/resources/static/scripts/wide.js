/** What is wider than its place can be reached and scrolled by keyboard. */

const watch = new window.ResizeObserver((entries) => entries.forEach(({ target }) => {
  target.toggleAttribute('tabindex', target.scrollWidth > target.clientWidth);
  if (target.hasAttribute('tabindex')) {
    target.tabIndex = 0;
  }
}));

function watchAll(part) {
  part.querySelectorAll('.table, .lane-picture').forEach((place) => watch.observe(place));
}

watchAll(document);
document.addEventListener('htmx:afterSettle', (event) => watchAll(event.detail.elt));
