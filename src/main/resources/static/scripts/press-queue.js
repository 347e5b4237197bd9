/**
 * The presses of a running day that wait to be sent, and what a page shows while they wait. Nothing here touches a page,
 * a clock or the network: they are handed in, so that every rule can be tested without a browser.
 *
 * @typedef {object} Press
 * @property {string} key a UUID of its own, by which the server knows a press that it was sent twice
 * @property {string} id the appointment
 * @property {string} what check-in, call-in, finish or room-ready
 * @property {string} to the address that it is sent to
 * @property {string} label the booked time; nothing in a press names a patient
 * @property {string} who the sign-in name of whoever pressed
 * @property {number} at when it was pressed, in milliseconds of this device's clock
 * @property {boolean} [tried] whether it could not be sent at once
 */

/** Where presses are written down in the browser. */
export const STORE = 'earslot.presses';

const FOLLOWS = { 'check-in': 'call-in', 'call-in': 'finish', 'finish': 'room-ready' };

/** A random UUID, version 4, of 16 random bytes: browsers offer one of their own to pages on HTTPS only. */
export function newKey(bytes) {
  const sixteen = Uint8Array.from(bytes);
  sixteen[6] = (sixteen[6] & 15) | 64;
  sixteen[8] = (sixteen[8] & 63) | 128;
  const hex = Array.from(sixteen, (byte) => byte.toString(16).padStart(2, '0')).join('');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

/**
 * What each form of a press is once these presses are done, so that work goes on without a connection: its next press,
 * or nothing more; and nobody can be called in while somebody else of the same list is in the room.
 *
 * @param {{id: string, press: string, lane: string}[]} forms as the server sent them
 * @param {Press[]} presses in the order they were made
 * @param {boolean} atChair whether this person may call in, finish and make ready
 * @returns {{press: string, hidden: boolean}[]} in the order of the forms
 */
export function shownAs(forms, presses, atChair) {
  const shown = forms.map((form) => ({ id: form.id, lane: form.lane, press: form.press, over: false }));
  presses.forEach((press) => {
    shown.filter((form) => form.id === press.id && form.press === press.what).forEach((form) => {
      const next = atChair ? FOLLOWS[form.press] : undefined;
      form.over = next === undefined;
      form.press = next ?? form.press;
    });
  });
  const inRoom = shown.filter((form) => form.press === 'finish' && !form.over);
  return shown.map((form) => ({
    press: form.press,
    hidden: form.over
      || (form.press === 'call-in' && inRoom.some((other) => other.lane === form.lane && other.id !== form.id))
  }));
}

/**
 * The presses that are written down, oldest first.
 *
 * @param {Storage} storage the browser's
 */
export function pressQueue(storage) {
  /** @returns {Press[]} none where what is written down cannot be read */
  function all() {
    try {
      const list = JSON.parse(storage.getItem(STORE) ?? '[]');
      return Array.isArray(list) ? list : [];
    } catch {
      return [];
    }
  }

  function write(list) {
    storage.setItem(STORE, JSON.stringify(list));
  }

  return {
    all,

    /** @throws where the browser stores nothing more */
    add: (press) => write([...all(), press]),

    remove: (key) => write(all().filter((press) => press.key !== key)),

    /** Removes a press and the later ones of the same visit, which rest on it. */
    undo(key) {
      const before = all();
      const from = before.findIndex((press) => press.key === key);
      if (from >= 0) {
        write(before.filter((press, at) => at < from || press.id !== before[from].id));
      }
    },

    /** All presses of one person wait for the same connection. */
    markTried: (who) => write(all().map((press) => (press.who === who ? { ...press, tried: true } : press))),

    /** The oldest press of one person; what somebody else pressed in this browser waits for them. */
    next: (who) => all().find((press) => press.who === who),

    /** Those that could not be sent at once. */
    tried: () => all().filter((press) => press.tried),

    clear: () => storage.removeItem(STORE)
  };
}

/**
 * Sends the presses of one person, one at a time and in order. A press is struck off once the server has said that it is
 * done or refused; until then it is sent again, with the same key.
 *
 * @param queue of pressQueue
 * @param {string} who the person's sign-in name
 * @param {function(Press): Promise<Response>} post fails where there is no connection
 * @param {function(function(): void): void} again calls back after a while, once
 * @param {{changed: function(), waits: function(boolean), reached: function(), done: function(Press, boolean),
 *     refused: function(Press, string)}} tells what became of a press: waits, with whether somebody has to sign in first;
 *     done, with whether it had waited; refused, with why; reached, once the server has answered; changed, after all that
 */
export function pressSender(queue, who, post, again, tells) {
  let inFlight = null;

  function waits(signedOut) {
    queue.markTried(who);
    tells.waits(signedOut);
    return false;
  }

  /** Whether the press is off the list. */
  async function settles(press) {
    let answer;
    try {
      answer = await post(press);
    } catch {
      return waits(false);
    }
    if (answer.status === 401 || answer.status === 403 || answer.type === 'opaqueredirect') {
      return waits(true);
    }
    if (answer.status >= 500) {
      return waits(false);
    }
    const body = await answer.json().catch(() => ({ done: answer.ok, said: [] }));
    const waited = queue.tried().some((each) => each.key === press.key);
    queue.remove(press.key);
    if (body.done) {
      tells.done(press, waited);
    } else {
      tells.refused(press, (body.said ?? []).join(' '));
    }
    return true;
  }

  /** Sends what waits, unless it is being sent. */
  async function send() {
    const press = queue.next(who);
    if (inFlight !== null || !press) {
      tells.changed();
      return;
    }
    inFlight = press.key;
    const settled = await settles(press);
    inFlight = null;
    tells.changed();
    if (settled) {
      tells.reached();
      await send();
    } else {
      again(send);
    }
  }

  return { send, isSending: (key) => inFlight === key };
}
