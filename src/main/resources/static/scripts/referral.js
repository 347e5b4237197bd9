/**
 * The referral form while it is filled in: the bar at its lower edge says how long the slot is and what is still to
 * ask, "none of these" answers every open red flag, and "back" leads to the form and never to sending it again.
 */
const form = document.getElementById('referral');
const none = document.getElementById('noneFlagged');
const others = document.getElementById('noneOfThese');
const slot = document.getElementById('bar-slot');
const toAsk = document.getElementById('bar-open');

/** Those that stop a booking; the others are notes. */
function flags() {
  return Array.from(form.querySelectorAll('.flag[data-stops]'));
}

function answerOf(flag) {
  return flag.querySelector('input:checked')?.value ?? '';
}

/** What is still to ask, in the words of the page. */
function tellOpen() {
  const all = flags();
  const unanswered = all.filter((flag) => !answerOf(flag)).length;
  const words = [];
  if (unanswered > 0) {
    words.push(toAsk.dataset.flags.replace('{0}', unanswered).replace('{1}', all.length));
  }
  if (!others.checked) {
    words.push(toAsk.dataset.cautions);
  }
  toAsk.textContent = words.length > 0 ? words.join(' · ') : toAsk.dataset.done;
  toAsk.classList.toggle('to-ask', words.length > 0);
}

/** How many cautions of a closed group are turned on. */
function countToggled() {
  form.querySelectorAll('.caution-group').forEach((group) => {
    const toggled = group.querySelectorAll('input[name="cautions"]:checked').length;
    group.querySelector('[data-toggled]').textContent = toggled > 0 ? `(${toggled})` : '';
  });
}

form.addEventListener('change', (event) => {
  if (event.target === none && none.checked) {
    // What was answered already stays: a "yes" is never overwritten, and saving both is refused.
    Array.from(form.querySelectorAll('.flag')).filter((flag) => !answerOf(flag)).forEach((flag) => {
      flag.querySelector('input[value="no"]').checked = true;
    });
  } else if (event.target.closest('.flag') && event.target.value !== 'no') {
    none.checked = false;
  }
  tellOpen();
  countToggled();
});

document.addEventListener('htmx:afterSwap', (event) => {
  if (event.target.id === 'estimate') {
    slot.textContent = event.target.querySelector('[data-slot]')?.textContent ?? '';
  }
});

// A form that was sent and came back is the answer to a press; its own address leads to it again, as it was kept.
const key = form.querySelector('input[name="formKey"]')?.value;
if (key && window.location.pathname === form.getAttribute('action')) {
  window.history.replaceState(null, '', `/referrals/new?form=${encodeURIComponent(key)}`);
}

tellOpen();
countToggled();
