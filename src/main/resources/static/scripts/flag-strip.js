/** Keeps the open red flags at the head of the page up to date; a new one is read out once. */

/** Milliseconds. */
const BETWEEN_LOOKS = 60000;
/** Tells the server that nobody asked: the session is not kept alive by it. */
const BY_ITSELF = { 'HX-Request': 'true' };

const strip = document.getElementById('flag-strip');
let looking = false;

/** What is said of each red flag, by the address of its referral. */
function flags(within) {
  const links = Array.from(within.querySelectorAll('a'));
  return new Map(links.map((link) => [link.getAttribute('href'), link.textContent.replace(/\s+/g, ' ').trim()]));
}

function show(answer) {
  const fresh = new DOMParser().parseFromString(answer, 'text/html').body;
  const before = flags(strip);
  const now = flags(fresh);
  const unchanged = before.size === now.size && [...now].every(([address, said]) => before.get(address) === said);
  if (unchanged) {
    return;
  }
  const at = strip.contains(document.activeElement) ? document.activeElement.getAttribute('href') : null;
  strip.replaceChildren(...fresh.childNodes);
  strip.hidden = now.size === 0;
  Array.from(strip.querySelectorAll('a')).find((link) => link.getAttribute('href') === at)?.focus();
  const added = [...now].filter(([address]) => !before.has(address)).map(([, said]) => said);
  if (added.length > 0) {
    document.getElementById('flag-news').textContent = added.join('. ');
  }
}

async function look() {
  if (looking || document.hidden) {
    return;
  }
  looking = true;
  try {
    const answer = await fetch(strip.dataset.again, { headers: BY_ITSELF });
    if (answer.ok && !answer.redirected) {
      show(await answer.text());
    }
  } catch {
    // No connection: what the page shows stays, and the next look tries again.
  } finally {
    looking = false;
  }
}

if (strip) {
  setInterval(look, BETWEEN_LOOKS);
  document.addEventListener('day-changed', look);
  document.addEventListener('visibilitychange', look);
}
