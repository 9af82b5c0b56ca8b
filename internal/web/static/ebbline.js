// What script adds to pages that work without it: how fresh the page is, new
// state as it comes, timers, the outbox, and a number pad. ES2017, one file,
// no library; checked by tsc.
"use strict";
(function () {
  /** @type {number} when the server was last heard, by this screen's clock */
  let heard = Date.now();
  /** @type {number} server's clock minus this screen's, in milliseconds */
  let skew = 0;
  /** @type {string} the server's last time stamp, with the household's offset */
  let stamp = document.body.dataset.made || "";
  if (stamp) skew = Date.parse(stamp) - Date.now();

  let drawn = Date.now(); // when this page was last made anew
  const drawnFor = 60000; // after so long it is made anew whatever happened
  const quietFor = 20000; // after this long without the server a page is old
  const callAgain = 8000; // the server speaks every five seconds; after this its line is taken for dead
  const answerIn = 3000; // and a new line that has brought nothing by then as well

  /** @returns {Date} */
  function serverNow() { return new Date(Date.now() + skew); }

  /** @param {number} n @returns {string} */
  function two(n) { return (n < 10 ? "0" : "") + n; }

  /** @param {number} ms @returns {string} */
  function span(ms) {
    const sign = ms < 0 ? "−" : "";
    const m = Math.floor(Math.abs(ms) / 60000);
    return sign + (m < 60 ? m + " min" : Math.floor(m / 60) + " h " + two(m % 60));
  }

  /** @param {string} id @returns {HTMLElement|null} */
  function el(id) { return document.getElementById(id); }

  // ---- freshness ----------------------------------------------------------

  function showFreshness() {
    const silent = Date.now() - heard;
    const stale = el("stale");
    const old = silent > quietFor;
    document.body.classList.toggle("greyed", old);
    if (stale) stale.hidden = !old && !held;
    for (const field of document.querySelectorAll("main input, main button, main select, main textarea")) {
      const f = /** @type {HTMLInputElement} */ (field);
      if (old && !f.disabled) { f.disabled = true; f.dataset.closed = "stale"; }
      if (!old && f.dataset.closed === "stale") { f.disabled = false; delete f.dataset.closed; }
    }
    if (old) hidePad();
    const unheard = broken || silent > callAgain, line = el("bar-old");
    if (line) line.hidden = !unheard;
    if (line && unheard) line.textContent = "The program is not heard: as of " + asOf() + ".";
    tellInside(old || held, unheard);
    if (unheard && typed(document.body)) window.addEventListener("beforeunload", asks);
    else window.removeEventListener("beforeunload", asks);
    const fresh = document.querySelector("#fresh time");
    if (fresh && unheard && !old) fresh.textContent = asOf() + ", not heard since";
    if (fresh && old) fresh.textContent = "heard " + (silent < 120000 ? Math.round(silent / 1000) + " s" : span(silent)) + " ago";
  }

  /** @returns {string} when the program was last heard, by the household's clock */
  function asOf() { return stamp.slice(11, 16); }

  // lost takes in that the program did not answer. It is said at once; the line to the
  // program asks again by itself.
  function lost() {
    broken = true;
    showFreshness();
  }

  /** @param {{state: number, now: string, version: string, unsaved: boolean}} news */
  function hear(news) {
    heard = Date.now();
    held = broken = false;
    stamp = news.now;
    skew = Date.parse(stamp) - heard;
    const fresh = document.querySelector("#fresh time");
    if (fresh) fresh.textContent = news.now.slice(11, 19);
    const unsaved = el("unsaved");
    if (unsaved) unsaved.hidden = !news.unsaved;
    showFreshness();
    if (news.version !== document.body.dataset.version && !typed(document.body)) { location.reload(); return; }
    // What a page says of today or of a length of time ages without a new entry.
    if (String(news.state) !== document.body.dataset.state || Date.now() - drawn > drawnFor) refresh();
    drain();
  }

  let source = /** @type {EventSource|null} */ (null);
  let called = 0;
  // listen opens the line to the server anew. A line that a sleeping tablet or a
  // lost network left behind looks open for ever, so it is not trusted.
  function listen() {
    if (!window.EventSource) return;
    called = Date.now();
    if (source) source.close();
    source = new EventSource("/live");
    source.onmessage = function (m) { hear(JSON.parse(m.data)); };
    source.onerror = function () { broken = true; showFreshness(); };
  }

  function keepListening() {
    if (document.visibilityState === "hidden") return;
    if (Date.now() - heard > callAgain && Date.now() - called > answerIn) listen();
  }

  // ---- links while the program is not heard -------------------------------

  let leaving = false; // the program answered, or the person wants to go all the same
  let held = false; // a link led nowhere since the program was last heard
  let broken = false; // the line to it broke, and nothing came since
  const unheardFor = 6000; // it speaks every five seconds

  // A link that leaves this page would leave card, steps and numbers behind for the
  // browser's own error. Where the program was not heard it is asked first.
  document.addEventListener("click", function (ev) {
    const at = /** @type {Element} */ (ev.target);
    const a = /** @type {HTMLAnchorElement|null} */ (at.closest ? at.closest("a[href]") : null);
    if (!a || ev.defaultPrevented || ev.button || ev.metaKey || ev.ctrlKey || ev.shiftKey || ev.altKey) return;
    if (a.target || a.hasAttribute("download") || a.origin !== location.origin) return;
    if (a.hash && a.href.split("#")[0] === location.href.split("#")[0]) return; // a place on this page
    if (!broken && Date.now() - heard <= unheardFor) return;
    ev.preventDefault();
    answers().then(function (there) { if (there) { leaving = true; location.assign(a.href); } else stay(); });
  });

  /** @returns {Promise<boolean>} whether the program answers within three seconds */
  function answers() {
    const limit = window.AbortController ? new AbortController() : null;
    return new Promise(function (done) {
      const timer = setTimeout(function () { done(false); if (limit) limit.abort(); }, answerIn);
      const asked = { method: "HEAD", cache: /** @type {RequestCache} */ ("no-store"), signal: limit ? limit.signal : undefined };
      fetch("/static/ebb.svg", asked).then(function (r) { clearTimeout(timer); done(r.ok); }, function () { clearTimeout(timer); done(false); });
    });
  }

  // stay says why a link led nowhere, and what is good here.
  function stay() {
    held = true;
    showFreshness();
    const good = el("still-good");
    const what = good ? (good.textContent || "").replace(/\s+/g, " ").trim() : "";
    if (!opened()) notice("The program does not answer. You stay on this page. " + what, "");
  }

  // ---- new state ----------------------------------------------------------

  // typed tells whether a form holds something that was not sent yet.
  /** @param {Element} within @returns {boolean} */
  function typed(within) {
    if (within.matches("form[data-unsent]") || within.querySelector("form[data-unsent]")) return true; // typed on the page before this one
    for (const field of within.querySelectorAll("form input, form textarea")) {
      const f = /** @type {HTMLInputElement} */ (field);
      if (f.type === "radio" || f.type === "checkbox" ? f.checked !== f.defaultChecked : f.type !== "hidden" && f.value !== f.defaultValue) return true;
    }
    return false;
  }

  let refreshing = false, again = false;
  let leadsTo = ""; // a trouble of this page that the last saving leads to
  let sending = 0; // forms of this page whose answer is still to come, or leads away from it
  // refresh brings the parts marked data-live to what the newest page says.
  // What is being typed, what is open and where the focus is stay as they are.
  function refresh() {
    drawn = Date.now();
    if (!document.querySelector("[data-live]")) return;
    if (refreshing) { again = true; return; }
    refreshing = true;
    fetch(location.href).catch(function (e) { lost(); throw e; }).then(function (r) {
      if (!r.ok) throw new Error(String(r.status));
      return r.text();
    }).then(function (text) {
      const page = new DOMParser().parseFromString(text, "text/html");
      if (page.body.dataset.phase !== document.body.dataset.phase) {
        if (sending) return; // the answer leads on; a reload would overtake it
        if (!typed(document.body)) { location.reload(); return; }
        goneOn();
      }
      for (const part of document.querySelectorAll("[data-live]")) {
        const next = page.getElementById(part.id);
        if (next) { keepTyped(part, next); bring(part, next); }
      }
      document.body.dataset.state = page.body.dataset.state || "";
      for (const id of Object.keys(told)) if (!sending && kept.indexOf(id) < 0) delete told[id];
      if (tileTap && tileTap.old && Date.now() - tileTap.at < 5000) { tileTap.at = Date.now(); tileTap.old = false; }
      tick();
    }).catch(function () { /* the freshness line says it */ }).then(function () {
      refreshing = false;
      const to = leadsTo && location.hash === "#" + leadsTo ? el(leadsTo) : null;
      if (to) to.scrollIntoView();
      else if (leadsTo) location.hash = leadsTo;
      leadsTo = "";
      if (again) { again = false; refresh(); }
    });
  }

  // keepTyped puts into the fresh part what it cannot know: a value that stands typed on
  // this page and is not saved.
  /** @param {Element} part @param {Element} next */
  function keepTyped(part, next) {
    const block = part.querySelector("[data-typed]"), top = next.querySelector(".wrong-top");
    if (block && top && !next.querySelector("[data-typed]")) top.after(document.importNode(block, true));
  }

  // goneOn says that another screen took the session further while something
  // is half typed here.
  function goneOn() {
    if (el("gone-on")) return;
    const p = document.createElement("p");
    p.id = "gone-on"; p.className = "look"; p.setAttribute("role", "status");
    const a = document.createElement("a");
    a.href = location.pathname; a.className = "main"; a.textContent = "Show it";
    p.appendChild(document.createTextNode("The session was taken further on another screen. What you typed here is not sent yet. "));
    p.appendChild(a);
    const main = el("main");
    if (main) main.insertBefore(p, main.firstChild);
  }

  // What the person or this script does to an element, and the server does not.
  const ours = ["open", "disabled", "inputmode", "data-closed", "data-plain", "data-kept", "inert"];

  /** @param {Node} n @returns {string} what an element is recognised by among its sisters */
  function mark(n) {
    const e = /** @type {Element} */ (n);
    if (n.nodeType !== 1) return "";
    // Not e.id: of a form that is its field of that name.
    return e.getAttribute("id") || e.getAttribute("data-key") || e.getAttribute("data-kind") || e.getAttribute("action") || "";
  }

  // bring makes the old element what the fresh one is, changing only what
  // differs.
  /** @param {Element} old @param {Element} fresh */
  function bring(old, fresh) {
    if (old.isEqualNode(fresh)) return;
    const id = old.tagName === "INPUT" && old.getAttribute("name") === "id"; // of an entry not yet sent
    for (const a of Array.from(fresh.attributes)) {
      if (ours.indexOf(a.name) < 0 && !(id && a.name === "value") && old.getAttribute(a.name) !== a.value) old.setAttribute(a.name, a.value);
    }
    for (const a of Array.from(old.attributes)) {
      if (ours.indexOf(a.name) < 0 && !fresh.hasAttribute(a.name)) old.removeAttribute(a.name);
    }
    const wanted = Array.from(fresh.childNodes), marks = wanted.map(mark);
    for (const c of Array.from(old.childNodes)) {
      if (mark(c) && marks.indexOf(mark(c)) < 0) old.removeChild(c);
    }
    /** @type {Node|null} */
    let at = old.firstChild;
    wanted.forEach(function (next, i) {
      /** @type {Node|null} */
      let same = at;
      if (marks[i]) {
        while (same && (same.nodeName !== next.nodeName || mark(same) !== marks[i])) same = same.nextSibling;
      } else if (same && (same.nodeName !== next.nodeName || mark(same))) {
        same = null;
      }
      if (!same) { old.insertBefore(document.importNode(next, true), at); return; }
      if (same === at) at = at.nextSibling;
      else old.insertBefore(same, at);
      if (same.nodeType === 1) bring(/** @type {Element} */ (same), /** @type {Element} */ (next));
      else if (same.nodeValue !== next.nodeValue) same.nodeValue = next.nodeValue;
    });
    while (at) {
      const gone = at;
      at = at.nextSibling;
      old.removeChild(gone);
    }
  }

  // ---- timers -------------------------------------------------------------

  // A timer is never counted: it is the distance from the present to a moment
  // that the server gave, so that sleep and reload cannot stop it.
  function tick() {
    const now = serverNow().getTime();
    for (const t of document.querySelectorAll("time[data-since]")) {
      const e = /** @type {HTMLElement} */ (t);
      e.textContent = span(now - Date.parse(e.dataset.since || ""));
    }
    for (const t of document.querySelectorAll("time[data-until]")) {
      const e = /** @type {HTMLElement} */ (t);
      const left = Date.parse(e.dataset.until || "") - now;
      e.textContent = left >= 0 ? "in " + span(left + 59999) : "due " + span(-left) + " ago";
      e.classList.toggle("due", left < 0);
    }
    for (const t of document.querySelectorAll("[data-from]")) {
      const e = /** @type {HTMLElement} */ (t);
      e.hidden = now < Date.parse(e.dataset.from || "");
    }
    powerClock(now);
    showKept();
    showPresses();
    showFreshness();
    keepListening();
    // What the bar says ends at a moment that is known.
    const bar = el("bar"), ends = bar && bar.dataset.again;
    if (ends && ends !== askedFor && now > Date.parse(ends)) { askedFor = ends; refresh(); }
  }
  let askedFor = ""; // that moment, once the page was brought up to date for it

  // ---- something is wrong -------------------------------------------------

  // opened gives the trouble, or the list of them, that lies over the page.
  /** @returns {HTMLElement|null} */
  function opened() {
    const e = location.hash.indexOf("#wrong") === 0 ? el(location.hash.slice(1)) : null;
    return e && e.closest(".wrong");
  }

  // A finger that trembles comes down beside the place that it pressed. In a tile that
  // writes nothing within a second of the press, or of the page being brought up to date
  // for it, whatever button is there by then; a press further off is another act, and
  // elsewhere every press counts.
  const besideIn = 1000, besideBy = 40; // pixels
  /** @type {{tile: Element, key: string, at: number, old: boolean, x: number, y: number}|null} */
  let tileTap = null;
  let downX = -1000, downY = -1000; // where the finger came down last
  document.addEventListener("pointerdown", function (ev) { downX = ev.clientX; downY = ev.clientY; }, true);

  /** @param {Element|null} tile @param {string} key @returns {boolean} */
  function beside(tile, key) {
    const before = tileTap;
    if (tile && before && before.tile === tile && before.key !== key && Date.now() - before.at < besideIn && Math.hypot(before.x - downX, before.y - downY) < besideBy) return true;
    tileTap = tile && { tile: tile, key: key, at: Date.now(), old: true, x: downX, y: downY };
    return false;
  }

  // Nor does the line of what was saved, which may come up under that finger, lead away.
  document.addEventListener("click", function (ev) {
    const at = /** @type {Element} */ (ev.target);
    if (!tileTap || Date.now() - tileTap.at >= besideIn || !at.closest || !at.closest("#wrong-told")) return;
    ev.preventDefault();
    ev.stopPropagation();
  }, true);

  // nameOf is what a tap writes, in the words of its button.
  /** @param {HTMLElement|null} by @param {HTMLFormElement} form @returns {string} */
  function nameOf(by, form) {
    if (!by || form.querySelector('input:not([type="hidden"]), textarea, select')) return "";
    const many = by.closest(".tap-many"), of = many && many.querySelector(".tap-name");
    const head = of && of.firstChild ? (of.firstChild.nodeValue || "").trim() + " " : "";
    const name = head + (by.dataset.saved || by.getAttribute("aria-label") || (by.textContent || "").trim());
    return name.charAt(1) === " " ? name : name.charAt(0).toLowerCase() + name.slice(1); // "I feel"
  }

  // cover gives the focus to what was opened, and takes the page under it out of
  // reach of keyboard and screen reader.
  function cover() {
    const e = opened();
    for (const part of document.querySelectorAll("body > .top, body > .bar, body > main, body > .parts, body > .foot")) {
      /** @type {HTMLElement} */ (part).inert = e !== null;
    }
    const main = el("main");
    if (e) { hidePad(); e.focus({ preventScroll: true }); }
    else if (main && location.hash === "#main") main.focus({ preventScroll: true });
    if (e) typedInTile(e);
    showFreshness();
  }

  // typedInTile shows in an opened trouble the value typed on this page that leads to it
  // and was not sent yet, with the button that saves it.
  /** @param {HTMLElement} tile */
  function typedInTile(tile) {
    for (const old of document.querySelectorAll('[data-typed="page"]')) old.remove();
    for (const form of document.querySelectorAll("form.keys:not([data-unsent])")) {
      const f = /** @type {HTMLFormElement} */ (form), what = led(f).indexOf(tile.id.slice(6)) < 0 ? "" : figures(f, tile.id);
      if (!what || tile.querySelector("[data-typed]")) continue;
      const b = document.createElement("button"), says = new URLSearchParams();
      for (const i of of(f, tile.id)) if (i.value.trim()) says.append(i.name, i.value);
      b.className = "main"; b.setAttribute("form", f.getAttribute("id") || ""); b.name = "yes"; b.value = says.toString();
      b.textContent = "Yes, " + what + ": save it";
      inTileShown(tile.id, what, " typed, not saved yet", "page").appendChild(b);
    }
  }

  let waiting = 0; // entries that are kept on this screen
  // tellInside says over an opened trouble what the page under it says of itself.
  /** @param {boolean} old @param {boolean} unheard */
  function tellInside(old, unheard) {
    const line = el("wrong-told");
    if (!line) return;
    const said = [], notice = el("saved"), good = el("still-good");
    if (old) {
      const what = good ? (good.textContent || "").replace(/\s+/g, " ").trim() : "";
      said.push("NOT LIVE." + (what ? " " + what : ""));
    } else if (unheard) said.push("The program is not heard: as of " + asOf() + ".");
    if (waiting) said.push(waiting + (waiting === 1 ? " entry is" : " entries are") + " kept on this screen, NOT SAVED. Use paper too.");
    else if (notice && notice.firstChild && notice.firstChild.nodeValue) said.push(notice.firstChild.nodeValue.trim());
    const text = opened() ? said.join(" ") : "";
    const wrongly = text && !waiting && notice ? notice.querySelector("a") : null;
    const all = text + (wrongly ? wrongly.href : "");
    if (line.dataset.said !== all) {
      line.dataset.said = all;
      line.textContent = text;
      if (wrongly) line.appendChild(wrongly.cloneNode(true));
    }
    line.hidden = !text;
  }

  // A trouble that was said on this screen, and is not written down yet, makes its rule
  // about the blood stand where a weaker one stood. Words and strictness are the page's.
  // It holds until a fresh page was brought in after it was written down.
  /** @type {{[id: string]: Letter}} */
  const told = {};
  /** @type {string[]} */
  let kept = []; // of these, what waits on this screen

  function showKept() {
    const list = el("wrong-kept"), bar = el("bar-kept");
    if (!list) return;
    /** @type {HTMLElement|null} */
    let rule = null;
    /** @type {HTMLElement[]} */
    const said = [];
    for (const id of Object.keys(told)) {
      const at = told[id].url.split(location.host).pop(), body = new URLSearchParams(told[id].body);
      if (at !== list.dataset.base + "/trouble" || body.get("state") !== "open") continue;
      const one = /** @type {HTMLElement|null} */ (list.querySelector('[data-trouble="' + body.get("trouble") + '"]'));
      if (!one) continue;
      if (said.indexOf(one) < 0) said.push(one);
      if (!rule || strict(one) > strict(rule)) rule = one;
    }
    const words = rule ? (rule.lastElementChild || rule).textContent || "" : "";
    for (const part of document.querySelectorAll("[data-if-held], [data-unless-held]")) {
      const e = /** @type {HTMLElement} */ (part), held = rule !== null && strict(e.closest("[data-strict]")) < strict(rule);
      if (e.dataset.rule !== undefined && e.textContent !== words) e.textContent = words;
      if (e.hidden !== (held === (e.dataset.unlessHeld !== undefined))) e.hidden = !e.hidden;
    }
    if (!bar) return;
    said.sort(function (a, b) { return strict(b) - strict(a); });
    const all = said.map(function (one) { return one.dataset.trouble; }).join();
    if (bar.dataset.said === all && bar.childNodes.length === said.length) { bar.hidden = !said.length; return; }
    bar.dataset.said = all;
    bar.textContent = "";
    for (const one of said) bar.appendChild(/** @type {Element} */ (one.firstElementChild).cloneNode(true));
    bar.hidden = !said.length;
  }

  /** @param {Element|null} e @returns {number} */
  function strict(e) { return e ? Number(/** @type {HTMLElement} */ (e).dataset.strict) : 0; }

  // A power cut is counted from the first tap on its tile: on this screen, since the
  // program may be gone as well, until it is written down.
  const cutFor = 3600000; // a count that was never written down is forgotten after an hour
  /** @type {{[base: string]: number}} */
  const cuts = {};
  let counted = false; // on this page

  /** @param {string} base @returns {number} when the count began, by this screen's clock; 0 for none */
  function cutSince(base) {
    let at = cuts[base] || 0;
    try { at = Number(localStorage.getItem("power cut " + base)) || at; } catch (e) { /* no storage: the page holds it */ }
    return Date.now() - at < cutFor ? at : 0;
  }

  /** @param {string} base @param {number} at */
  function setCut(base, at) {
    cuts[base] = at;
    try {
      if (at) localStorage.setItem("power cut " + base, String(at));
      else localStorage.removeItem("power cut " + base);
    } catch (e) { /* no storage: the page holds it */ }
  }

  /** @param {number} now by the server's clock */
  function powerClock(now) {
    const clock = el("power-clock"), screen = el("power-screen"), past = el("power-past");
    if (!clock || !screen || !past) return;
    const base = clock.dataset.base || "", time = /** @type {HTMLElement} */ (clock.querySelector("time"));
    if (clock.dataset.running !== undefined && cutSince(base)) setCut(base, 0); // it is written down
    const here = cutSince(base);
    const since = time.dataset.since ? Date.parse(time.dataset.since) : here ? here + skew : 0;
    clock.hidden = !since;
    // Once it is written down what stood here leaves its place empty: nothing under it moves.
    counted = counted || here > 0;
    screen.hidden = !counted;
    screen.style.visibility = here ? "" : "hidden";
    if (since) time.textContent = span(now - since);
    past.hidden = !since || !clock.dataset.within || now - since < Number(clock.dataset.within) * 60000;
  }

  document.addEventListener("click", function (ev) {
    const at = /** @type {Element} */ (ev.target);
    const from = opened();
    // What is left begins at its top when it is opened again.
    if (from && at.closest && at.closest('a[href^="#"]')) from.scrollTop = 0;
    const clock = el("power-clock");
    if (!clock || !at.closest) return;
    const base = clock.dataset.base || "";
    if (at.closest('a[href="#wrong-power"]') && clock.dataset.running === undefined && !cutSince(base)) setCut(base, Date.now());
    else if (at.closest("#power-stop")) setCut(base, 0);
    else return;
    powerClock(serverNow().getTime());
  });

  document.addEventListener("keydown", function (e) {
    const from = opened();
    if (e.key === "Escape" && from) { e.preventDefault(); from.scrollTop = 0; location.hash = "main"; }
  });

  window.addEventListener("hashchange", cover);

  // ---- outbox -------------------------------------------------------------

  /** @typedef {{id: string, url: string, body: string, at: number, said?: string, name?: string}} Letter */

  /** @type {Promise<IDBDatabase>|null} */
  let box = null;
  /** @returns {Promise<IDBDatabase>} */
  function open() {
    if (!box) {
      box = new Promise(function (done, failed) {
        const r = indexedDB.open("outbox", 1);
        r.onupgradeneeded = function () { r.result.createObjectStore("letters", { keyPath: "id" }); };
        r.onsuccess = function () { done(r.result); };
        r.onerror = function () { failed(r.error); };
      });
    }
    return box;
  }

  /**
   * @param {IDBTransactionMode} mode
   * @param {(s: IDBObjectStore) => IDBRequest} f
   * @returns {Promise<any>}
   */
  function store(mode, f) {
    return open().then(function (db) {
      return new Promise(function (done, failed) {
        const t = db.transaction("letters", mode);
        const r = f(t.objectStore("letters"));
        t.oncomplete = function () { done(r.result); };
        t.onabort = t.onerror = function () { failed(t.error); };
      });
    });
  }

  /** @typedef {{saved: boolean, id?: string, next?: string, findings?: {words: string}[] | null, rest?: {[key: string]: string[]}}} Answer */

  // A letter on its way is written down before it is sent, where writing takes
  // no time, so that a page left before the answer came has lost nothing. The
  // next page of this screen takes it up; sent twice, it is saved once.
  const onItsWay = "on its way ";

  /** @param {Letter} l */
  function sendingOut(l) {
    try { localStorage.setItem(onItsWay + l.id, JSON.stringify(l)); } catch (e) { /* full, or a private window: the page holds it */ }
  }

  /** @param {string} id */
  function arrived(id) {
    try { localStorage.removeItem(onItsWay + id); } catch (e) { /* it was never there */ }
  }

  // takeUp puts what an earlier page of this screen left on its way to what waits.
  /** @returns {Promise<any>} */
  function takeUp() {
    /** @type {Promise<any>[]} */
    const moved = [];
    try {
      for (const k of Object.keys(localStorage)) {
        if (k.indexOf(onItsWay) !== 0) continue;
        /** @type {Letter} */
        const l = JSON.parse(localStorage.getItem(k) || "");
        moved.push(store("readwrite", function (s) { return s.put(l); }).then(function () { arrived(l.id); }));
      }
    } catch (e) { /* no storage, or not ours */ }
    return Promise.all(moved);
  }

  // post sends a letter and gives the server's answer. An answer that does not
  // come within four seconds is none, and so is one that is not the program's.
  /** @param {Letter} l @returns {Promise<{status: number, answer: Answer}>} */
  function post(l) {
    const waited = Math.round((Date.now() - l.at) / 1000);
    const limit = window.AbortController ? new AbortController() : null;
    const timer = setTimeout(function () { if (limit) limit.abort(); }, 4000);
    return fetch(l.url, {
      method: "POST", body: l.body + (waited > 5 ? "&sent=" + waited : ""), signal: limit ? limit.signal : undefined,
      headers: { "Accept": "application/json", "Content-Type": "application/x-www-form-urlencoded" },
    }).catch(function (e) { lost(); throw e; }).then(function (r) {
      return r.json().then(function (a) { clearTimeout(timer); return { status: r.status, answer: a }; });
    }).catch(function (e) { clearTimeout(timer); throw e; });
  }

  let draining = false;
  // drain sends what waits, oldest first, and stops at the first that does not
  // get through, so that the order stays.
  function drain() {
    if (draining || !window.indexedDB) return;
    draining = true;
    store("readonly", function (s) { return s.getAll(); }).then(function (letters) {
      letters.sort(function (/** @type {Letter} */ a, /** @type {Letter} */ b) { return a.at - b.at; });
      let chain = Promise.resolve(0);
      for (const l of letters) {
        if (l.said) continue;
        chain = chain.then(function (n) {
          return post(l).then(function (got) {
            if (got.answer.saved) {
              if (got.answer.rest) return left(l, got.answer).then(function () { return n + 1; });
              return store("readwrite", function (s) { return s.delete(l.id); }).then(function () { release(l.id); became(l.id, "written " + clock(), Date.now() + drawnFor); return n + 1; });
            }
            if (got.status >= 500) throw new Error("not saved");
            l.said = words(got.answer);
            became(l.id, "", 0);
            return store("readwrite", function (s) { return s.put(l); }).then(function () { return n; });
          });
        });
      }
      return chain.then(function (n) { if (n > 0) refresh(); });
    }).catch(function () { /* still waiting */ }).then(function () { draining = false; showWaiting(); });
  }

  // left keeps what one yes left in doubt of a letter as a letter of its own, to be
  // looked at.
  /** @param {Letter} l @param {Answer} a @returns {Promise<any>} */
  function left(l, a) {
    const p = new URLSearchParams();
    for (const key of Object.keys(a.rest || {})) for (const v of (a.rest || {})[key]) p.append(key, v);
    /** @type {Letter} */
    const rest = { id: p.get("id") || newID(), url: l.url, body: p.toString(), at: l.at, said: words(a) };
    return store("readwrite", function (s) { return s.put(rest); })
      .then(function () { return store("readwrite", function (s) { return s.delete(l.id); }); })
      .then(function () { release(l.id); became(l.id, "written " + clock(), Date.now() + drawnFor); });
  }

  /** @param {Answer} a @returns {string} */
  function words(a) {
    return (a.findings || []).map(function (f) { return f.words; }).join("; ") || "it does not fit the record as it is now";
  }

  // release empties the form whose values waited on this page and are saved now.
  /** @param {string} id */
  function release(id) {
    for (const e of document.querySelectorAll('[data-typed="' + id + '"]')) e.remove();
    for (const f of document.querySelectorAll("form[data-kept]")) {
      const form = /** @type {HTMLFormElement} */ (f);
      if (form.dataset.kept === id) renew(form);
    }
  }

  let throwing = ""; // the letter of which it was asked whether it is thrown away

  /** @param {string} text @param {() => void} f @returns {HTMLElement} */
  function act(text, f) {
    const b = document.createElement("button");
    b.type = "button"; b.textContent = text; b.onclick = f;
    return b;
  }

  // lookAt sends a letter that was not taken as a plain form, so that the server's own
  // page of questions opens with all that was typed, and when. It is kept until it is
  // saved there.
  /** @param {Letter} l */
  function lookAt(l) {
    const form = document.createElement("form");
    form.method = "post"; form.action = l.url;
    new URLSearchParams(l.body + "&sent=" + Math.round((Date.now() - l.at) / 1000)).forEach(function (v, k) {
      const h = document.createElement("input");
      h.type = "hidden"; h.name = k; h.value = v; form.appendChild(h);
    });
    document.body.appendChild(form);
    answers().then(function (there) {
      if (!there) { form.remove(); stay(); return; }
      leaving = true;
      form.submit();
    });
  }

  function showWaiting() {
    if (!window.indexedDB) return;
    store("readonly", function (s) { return s.getAll(); }).then(function (letters) {
      let line = el("waiting");
      waiting = letters.length;
      kept = letters.map(function (/** @type {Letter} */ l) { told[l.id] = l; return l.id; });
      showKept();
      showFreshness();
      if (!letters.length) { if (line) line.remove(); return; }
      if (!line) {
        line = document.createElement("div");
        line.id = "waiting"; line.className = "unsaved"; line.setAttribute("role", "status");
        // Where nothing moves for it: a finger may be on its way to a button.
        const told = el("told");
        if (told) told.insertBefore(line, told.firstChild);
      }
      const oldest = Math.min.apply(null, letters.map(function (/** @type {Letter} */ l) { return l.at; }));
      const strong = document.createElement("strong");
      strong.textContent = letters.length + (letters.length === 1 ? " entry is" : " entries are") + " NOT SAVED YET, kept on this screen for " + span(Date.now() - oldest) + ". Write on paper too.";
      const parts = [/** @type {HTMLElement} */ (strong)];
      letters.sort(function (/** @type {Letter} */ a, /** @type {Letter} */ b) { return a.at - b.at; });
      for (const l of letters) {
        if (!l.said || parts.length > 1) continue; // one at a time: the notice lies over the page
        const p = document.createElement("p");
        p.textContent = (throwing === l.id ? "Throw away what was typed? " : "One was not taken: ") + l.said.replace(/\.? If it is right, type it again/g, "") + ". ";
        if (throwing === l.id) {
          p.appendChild(act("throw it away", function () { store("readwrite", function (s) { return s.delete(l.id); }).then(function () { release(l.id); showWaiting(); }); }));
          p.appendChild(act("keep it", function () { throwing = ""; showWaiting(); }));
        } else {
          p.appendChild(act("look at it", function () { lookAt(l); }));
          p.appendChild(act("take it off this screen", function () { throwing = l.id; showWaiting(); }));
        }
        parts.push(p);
      }
      if (line.textContent === parts.map(function (p) { return p.textContent; }).join("")) return; // said already
      line.textContent = "";
      for (const p of parts) line.appendChild(p);
    }).catch(function () { /* private mode: forms are then sent the plain way */ });
  }

  /** @param {HTMLFormElement} form @param {HTMLElement|null} by @returns {string} */
  function fields(form, by) {
    const p = new URLSearchParams();
    new FormData(form).forEach(function (v, k) { p.append(k, String(v)); });
    const b = /** @type {HTMLButtonElement|null} */ (by);
    if (b && b.name) p.append(b.name, b.value);
    return p.toString();
  }

  // plainly sends a form as its button would without script: submit() of a form
  // leaves out what the button that was pressed says.
  /** @param {HTMLFormElement} form @param {HTMLButtonElement|null} by */
  function plainly(form, by) {
    form.dataset.plain = "1";
    closed(form, false);
    if (by && by.name) {
      const h = document.createElement("input");
      h.type = "hidden"; h.name = by.name; h.value = by.value; form.appendChild(h);
    }
    const to = by && by.getAttribute("formaction");
    if (to) form.setAttribute("action", to);
    leaving = true;
    form.submit();
  }

  // holdForm says at a form that it was not sent, and leaves it as it is.
  /** @param {HTMLFormElement} form @param {HTMLButtonElement|null} by */
  function holdForm(form, by) {
    closed(form, false);
    held = true;
    showFreshness();
    let line = form.querySelector(".form-held");
    if (line) line.remove();
    line = document.createElement("p");
    line.className = "form-held unsaved"; line.setAttribute("role", "alert");
    line.textContent = "The program is not heard: NOT SAVED. Write it on paper, or try again later. ";
    const b = document.createElement("button");
    b.type = "button"; b.textContent = "Send it all the same: this page may be lost";
    b.onclick = function () { plainly(form, by); };
    line.appendChild(b);
    form.appendChild(line);
    line.scrollIntoView({ block: "nearest" });
  }

  // Going back would lose what is typed while the program is not heard. Only then does
  // a page ask before it is left.
  /** @param {Event} ev */
  function asks(ev) { if (!leaving && (broken || Date.now() - heard > callAgain) && typed(document.body)) ev.preventDefault(); }

  // blank takes out of a form what the server put into it as typed before: it is sent or
  // kept now.
  /** @param {HTMLFormElement} form */
  function blank(form) {
    delete form.dataset.unsent;
    for (const f of /** @type {NodeListOf<HTMLInputElement>} */ (form.querySelectorAll("input, textarea"))) {
      if (f.type === "hidden" && f.name.indexOf("again.") === 0) f.remove();
      else if (f.type === "radio" || f.type === "checkbox") f.defaultChecked = false;
      else if (f.type !== "hidden") f.defaultValue = "";
    }
    for (const e of document.querySelectorAll('[data-typed=""], .low-asked, .again-at, .asks')) e.remove();
  }

  // renew empties a form for the next entry, which gets an id of its own.
  /** @param {HTMLFormElement} form */
  function renew(form) {
    const id = /** @type {HTMLInputElement|null} */ (form.querySelector('input[name="id"]'));
    if (form.dataset.unsent !== undefined) blank(form);
    if (form.classList.contains("keys")) for (const e of document.querySelectorAll('[data-typed="page"]')) e.remove();
    form.reset();
    settle();
    if (id) id.value = newID();
    delete form.dataset.kept;
    delete form.dataset.plain;
    closed(form, false);
  }

  // A finger that bounces presses the same again. Within two seconds that writes
  // nothing more.
  const twiceIn = 2000;
  /** @typedef {{id: string, says: string, at: number, url: string}} Press */
  /** @type {Press|null} */
  let last = null; // of this page: a press on another one is another act

  // settle counts the two seconds from the answer: until then the form is shut.
  function settle() {
    if (last && Date.now() - last.at < 5000) last.at = Date.now(); // not from what waited long
  }

  // twice reports whether a letter is such a second press, and keeps it as the last
  // one where it is not.
  /** @param {HTMLFormElement} form @param {Letter} l @returns {boolean} */
  function twice(form, l) {
    /** @type {Press} */
    const p = { id: l.id, says: l.url + "?" + l.body.replace(/(^|&)id=[^&]*/, ""), at: Date.now(), url: l.url };
    const before = last;
    if (before && before.id !== p.id && before.says === p.says && !hasFields(form) && p.at - before.at < twiceIn && p.at >= before.at) return true;
    last = p;
    return false;
  }

  /** @param {HTMLFormElement} form @param {boolean} shut */
  function closed(form, shut) {
    for (const b of form.querySelectorAll("button")) b.disabled = shut;
  }

  /** @param {HTMLFormElement} form @returns {boolean} whether a person typed or chose something in it */
  function hasFields(form) { return form.querySelector('input:not([type="hidden"]), textarea, select') !== null; }

  document.addEventListener("submit", function (ev) {
    const form = /** @type {HTMLFormElement} */ (ev.target);
    if (form.dataset.plain) return;
    const id = /** @type {HTMLInputElement|null} */ (form.querySelector('input[name="id"]'));
    const by = /** @type {any} */ (ev).submitter || null;
    if (!form.classList.contains("entry") || !window.indexedDB || !id) {
      const during = document.body.classList.contains("at-session") || document.querySelector("#bar:not([hidden])");
      if (!during || !broken && Date.now() - heard <= unheardFor) return;
      ev.preventDefault();
      answers().then(function (there) { if (there) plainly(form, by); else holdForm(form, by); });
      return;
    }
    ev.preventDefault();
    /** @type {Letter} */
    const letter = { id: id.value, url: (by && by.getAttribute("formaction")) || form.action, body: fields(form, by), at: Date.now() };
    const trouble = form.closest(".wrong");
    if (beside(trouble, by ? keyOf(by, form) : "")) { notice("Pressed twice? Press again.", ""); return; }
    if (twice(form, letter)) { savedOnce(); return; }
    letter.name = nameOf(by, form);
    if (trouble) { told[letter.id] = letter; showKept(); }
    // A power cut began at the first tap on its tile.
    const cut = trouble && trouble.id === "wrong-power" && by && by.value === "open" ? el("power-clock") : null;
    if (cut) letter.at = cutSince(cut.dataset.base || "") || letter.at;
    if (by && !form.classList.contains("keys")) presses[keyOf(by, form)] = { id: letter.id, text: "pressed " + clock(), until: 0 };
    showPresses();
    closed(form, true);
    hidePad();
    // Nobody waits, where something is wrong, for a program that has not been heard.
    if (trouble && Date.now() - heard > quietFor) { keep(form, letter, by, true); return; }
    sendingOut(letter);
    sending++;
    post(letter).then(function (got) {
      if (got.answer.saved) { taken(form, letter, got.answer.next || location.pathname); return; }
      if (got.status >= 500) { sending--; keep(form, letter, by); return; }
      if (inTile(form)) {
        sending--;
        arrived(letter.id);
        became(letter.id, "", 0);
        closed(form, false);
        notice("Not saved: " + words(got.answer) + ".", "");
        return;
      }
      // Something stands against it: let the server show its own page for it.
      arrived(letter.id);
      became(letter.id, "", 0);
      plainly(form, by);
    }, function () { sending--; keep(form, letter, by, true); });
  });

  // taken goes on to where a saved entry leads. Where that is this very page,
  // the page stays, is brought up to date, and says what was saved.
  /** @param {HTMLFormElement} form @param {Letter} l @param {string} next */
  function taken(form, l, next) {
    arrived(l.id);
    const gone = store("readwrite", function (s) { return s.delete(l.id); }).then(showWaiting, function () { /* it never waited */ });
    const place = next.split("#")[1] || "";
    if (!inTile(form) && (next.split("#")[0] !== location.pathname || !document.querySelector("main [data-live]"))) {
      const here = location.pathname + location.search;
      // To another place of this page only: a browser would not fetch it again, and
      // a reload may go back to where the page stood before. A mark, which nobody
      // reads, makes it another page; the next saving leads to the one without.
      if (next.indexOf(here + "#") === 0) next = here + (location.search ? "&" : "?") + "again=1" + next.slice(here.length);
      leaving = true;
      // Not before it is off this screen: it would be said to wait, and is saved.
      Promise.race([gone, new Promise(function (done) { setTimeout(done, 500); })]).then(function () { location.assign(next); });
      return;
    }
    sending--;
    became(l.id, "written " + clock(), Date.now() + drawnFor);
    renew(form);
    const over = opened();
    if ((place.indexOf("wrong") === 0 || place === "said") && !(over && over.contains(el(place)))) leadsTo = place;
    notice(l.name ? "Saved: " + l.name + ", " + clock() + "." : "Saved at " + clock() + ".", entryOf(l));
    refresh();
  }

  // inTile reports whether a form belongs to an opened trouble while something is typed in
  // another form of the page, which a tap there must not throw away.
  /** @param {HTMLFormElement} form @returns {boolean} */
  function inTile(form) {
    return form.closest(".wrong") !== null && Array.from(document.querySelectorAll("form")).some(function (f) { return f !== form && typed(f); });
  }

  /** @param {{url: string, id: string}} l @returns {string} where the entry of a session is put right */
  function entryOf(l) {
    const at = l.url.indexOf("/session/");
    return at < 0 ? "" : l.url.slice(0, l.url.indexOf("/", at + 9)) + "/entry/" + l.id;
  }

  function savedOnce() {
    if (!last) return;
    notice(waiting ? "Kept once." : "Saved once.", waiting ? "" : entryOf(last));
    showFreshness();
  }

  /** @returns {string} the household's clock, wherever this screen was bought */
  function clock() {
    const zone = /([+-])(\d\d):(\d\d)$/.exec(stamp);
    const minutes = zone ? (zone[1] === "-" ? -1 : 1) * (Number(zone[2]) * 60 + Number(zone[3])) : 0;
    return new Date(serverNow().getTime() + minutes * 60000).toISOString().slice(11, 16);
  }

  // led gives the troubles that the values of a form lead to by the bounds that the server
  // wrote on them.
  /** @param {HTMLFormElement} form @returns {string[]} */
  function led(form) {
    const to = [];
    for (const f of /** @type {NodeListOf<HTMLInputElement>} */ (form.querySelectorAll("input[data-leads]"))) {
      const n = f.value.trim() ? Number(f.value.trim().replace(",", ".")) : NaN, d = f.dataset;
      if (d.under && n < Number(d.under) || d.over && n > Number(d.over)) to.push(d.leads || "");
    }
    return to;
  }

  // leading gives the trouble of this page that a form, or the button that was pressed,
  // leads to: a fluid first. With the program gone nobody else says it.
  /** @param {HTMLFormElement} form @param {HTMLElement|null} by @returns {string} */
  function leading(form, by) {
    const to = (by && by.dataset.leads ? [by.dataset.leads] : []).concat(led(form));
    const at = "wrong-" + (to.indexOf("fluid") >= 0 ? "fluid" : to[0]);
    return to.length && el(at) && !form.closest(".wrong") ? at : "";
  }

  /** @param {HTMLFormElement} form @param {string} at @returns {HTMLInputElement[]} the fields of a trouble */
  function of(form, at) { return Array.from(form.querySelectorAll('input[data-leads="' + at.slice(6) + '"]')); }

  /** @param {HTMLFormElement} form @param {string} at @returns {string} what is typed of a trouble, as it is read */
  function figures(form, at) { return of(form, at).map(function (f) { return f.value.trim(); }).filter(Boolean).join("/"); }

  // inTileShown shows a value in a trouble, in the place of an older one.
  /** @param {string} at @param {string} what @param {string} is @param {string} id @returns {HTMLElement} */
  function inTileShown(at, what, is, id) {
    const tile = /** @type {HTMLElement} */ (el(at)), top = tile.querySelector(".wrong-top"), b = document.createElement("b");
    for (const old of tile.querySelectorAll("[data-typed]")) old.remove();
    const block = document.createElement("div"), p = document.createElement("p");
    block.className = "wrong-typed"; block.dataset.typed = id; block.id = "typed-" + at;
    b.className = "figure"; b.textContent = what;
    p.append(b, is);
    block.appendChild(p);
    if (top) top.after(block);
    return block;
  }

  // keep puts into the outbox what could not be saved. What was typed stays in
  // its field when the program answered that it cannot write; without an answer
  // the form is emptied, so that the next entry can be typed.
  /** @param {HTMLFormElement} form @param {Letter} l @param {HTMLButtonElement|null} by @param {boolean} [unheard] */
  function keep(form, l, by, unheard) {
    const help = unheard ? leading(form, by) : "", what = help ? figures(form, help) : ""; // before the form is emptied
    store("readonly", function (s) { return s.get(l.id); }).then(function (before) {
      if (before && before.body === l.body) l.at = before.at;
      return store("readwrite", function (s) { return s.put(l); });
    }).then(function () {
      arrived(l.id);
      became(l.id, "kept on this screen " + clock(), 0);
      if (unheard || !hasFields(form)) renew(form);
      else { form.dataset.kept = l.id; closed(form, false); }
      const unsaved = el("unsaved");
      if (!unheard && unsaved) unsaved.hidden = false;
      showWaiting();
      if (what) inTileShown(help, what, " kept on this screen, not saved yet", l.id);
      if (help) location.hash = help;
    }).catch(function () {
      // No outbox, as in some private windows: the plain way keeps the value, where there
      // is somebody to send it to.
      arrived(l.id);
      became(l.id, "", 0);
      if (unheard) holdForm(form, by);
      else plainly(form, by);
    });
  }

  /** @returns {string} */
  function newID() {
    const b = new Uint8Array(12);
    crypto.getRandomValues(b);
    return "s" + Array.from(b).map(function (x) { return (x < 16 ? "0" : "") + x.toString(16); }).join("");
  }

  // What became of a press stands on the button that was pressed: at once, and as long
  // as nothing newer is known of it. The program's own page says it where something is wrong.
  /** @type {{[key: string]: {id: string, text: string, until: number}}} */
  const presses = {};

  /** @param {HTMLElement} b @param {HTMLFormElement} form @returns {string} */
  function keyOf(b, form) { return (b.getAttribute("formaction") || form.getAttribute("action")) + " " + (b.textContent || "").trim(); }

  // became keeps what is said on the button that wrote a letter, until a moment of this
  // screen's clock; 0 for as long as it waits.
  /** @param {string} id @param {string} text @param {number} until */
  function became(id, text, until) {
    for (const key of Object.keys(presses)) {
      if (presses[key].id !== id) continue;
      if (text) presses[key] = { id: id, text: text, until: until };
      else delete presses[key];
    }
    showPresses();
  }

  function showPresses() {
    for (const key of Object.keys(presses)) if (presses[key].until && Date.now() > presses[key].until) delete presses[key];
    for (const b of /** @type {NodeListOf<HTMLButtonElement>} */ (document.querySelectorAll("form.entry:not(.keys) button"))) {
      const p = b.form && presses[keyOf(b, b.form)];
      if (p && b.dataset.said !== p.text) { b.dataset.said = p.text; b.dataset.here = ""; }
      if (!p && b.dataset.here !== undefined) { delete b.dataset.said; delete b.dataset.here; }
    }
  }

  let quiet = 0;
  // notice says in one line what was saved, with the way to put it right.
  /** @param {string} text @param {string} link */
  function notice(text, link) {
    const line = el("saved");
    if (!line) return;
    line.textContent = text + " ";
    if (link) {
      const a = document.createElement("a");
      a.href = link; a.textContent = "Not right?";
      line.appendChild(a);
    }
    showFreshness();
    clearTimeout(quiet);
    quiet = setTimeout(function () { line.textContent = ""; }, 10000);
  }

  // ---- number pad ---------------------------------------------------------

  /** @type {HTMLInputElement|null} */
  let padded = null;
  /** @type {HTMLElement|null} */
  let pad = null;

  function makePad() {
    const made = document.createElement("div");
    made.className = "pad"; made.id = "pad"; made.setAttribute("role", "region"); made.setAttribute("aria-label", "Number pad");
    for (const k of ["7", "8", "9", "⌫", "4", "5", "6", "close", "1", "2", "3", "next", "−", "0", ".", "save"]) {
      const b = document.createElement("button");
      b.type = "button"; b.textContent = k; b.dataset.pad = k; b.tabIndex = -1; // whoever has a keyboard types
      if (k === "⌫") b.setAttribute("aria-label", "delete the last digit");
      if (k === "save") b.className = "main";
      made.appendChild(b);
    }
    made.addEventListener("pointerdown", function (e) { e.preventDefault(); });
    made.addEventListener("click", function (e) {
      const b = /** @type {HTMLElement} */ (e.target);
      if (b.dataset.pad) press(b.dataset.pad);
    });
    document.body.appendChild(made);
    pad = made;
  }

  /** @param {string} k */
  function press(k) {
    const f = padded;
    if (!f) return;
    if (k === "close") { hidePad(); return; }
    if (k === "next") { nextField(f); return; }
    if (k === "save") { const b = button(f); hidePad(); if (b) b.click(); return; }
    if (k === "⌫") f.value = f.value.slice(0, -1);
    else if (k === "−") f.value = f.value.charAt(0) === "-" ? f.value.slice(1) : "-" + f.value;
    else if (k === ".") { if (f.dataset.pad !== "0" && f.value.indexOf(".") < 0) f.value += "."; }
    else f.value += k;
    f.dispatchEvent(new Event("input", { bubbles: true }));
    if (k >= "0" && k <= "9" && full(f)) nextField(f);
  }

  /** @param {HTMLInputElement} f @returns {HTMLElement|null} the button that sends the form */
  function button(f) { return f.form ? f.form.querySelector(".send button.main") || f.form.querySelector("button.main") : null; }

  // full tells whether no further digit could make sense: the next one would
  // leave the field's bounds, or be one digit more than any value has. The sign
  // may still come after the digits.
  /** @param {HTMLInputElement} f @returns {boolean} */
  function full(f) {
    const most = Math.max(Number(f.dataset.hi), -Number(f.dataset.lo)), decimals = Number(f.dataset.pad);
    if (!most || !f.value) return false;
    const point = f.value.indexOf(".");
    if (point >= 0) return f.value.length - point - 1 >= Math.min(decimals, 1) && decimals < 2;
    if (decimals !== 0) return false;
    return Math.abs(Number(f.value)) * 10 > most || !f.dataset.signed && f.value.length >= String(most).length;
  }

  /** @param {HTMLInputElement} f */
  function nextField(f) {
    const form = f.form;
    if (!form) return;
    const all = Array.from(form.querySelectorAll("input.number")).filter(function (x) { return /** @type {HTMLElement} */ (x).offsetParent !== null; });
    const next = /** @type {HTMLInputElement|undefined} */ (all[all.indexOf(f) + 1]);
    if (next) next.focus();
    else { const b = button(f); hidePad(); if (b) b.focus(); }
  }

  function hidePad() { if (pad) pad.hidden = true; document.documentElement.classList.remove("has-pad"); padded = null; }

  document.addEventListener("focusin", function (e) {
    const f = /** @type {HTMLInputElement} */ (e.target);
    if (!f.matches || !f.matches("form.keys input.number")) { if (f.matches && f.matches("input, textarea, select")) hidePad(); return; }
    if (!pad) makePad();
    padded = f;
    f.inputMode = "none"; // the pad is bigger than the screen's own keyboard
    const save = button(f);
    /** @type {[string, boolean][]} */
    const shown = [["−", Boolean(f.dataset.signed)], [".", f.dataset.pad !== "0"], ["save", save !== null && (save.textContent || "").indexOf("Save") === 0]];
    if (pad) {
      pad.hidden = false;
      for (const one of shown) {
        const b = /** @type {HTMLElement|null} */ (pad.querySelector('[data-pad="' + one[0] + '"]'));
        if (b) b.style.visibility = one[1] ? "visible" : "hidden";
      }
    }
    document.documentElement.classList.add("has-pad");
    f.scrollIntoView({ block: "center" });
  });

  document.addEventListener("keydown", function (e) {
    const f = /** @type {HTMLInputElement} */ (e.target);
    if (!f.matches || !f.matches("form.keys input.number")) return;
    if (e.key === "Enter") { e.preventDefault(); nextField(f); }
    if (e.key === "Escape") hidePad();
  });

  // ---- begin --------------------------------------------------------------

  // What stands against a form comes into sight, wherever the form lies.
  const against = document.querySelector("main .low-asked, main .again-at, main .field.bad, main .field.asked");
  if (against && !location.hash && against.getBoundingClientRect().bottom > window.innerHeight * 0.8) against.scrollIntoView({ block: "center" });

  listen();
  tick();
  if (opened()) cover();
  setInterval(tick, 1000);
  setInterval(drain, 5000);
  takeUp().then(drain, drain);
  window.addEventListener("pageshow", function () { sending = 0; leaving = false; }); // back to a page that was left
  for (const name of ["visibilitychange", "pageshow", "focus", "online"]) {
    window.addEventListener(name, function (ev) {
      if (document.visibilityState === "hidden") {
        // A page nobody sees gives its line free: a browser has few to one server.
        if (source) source.close();
        source = null; called = 0;
        return;
      }
      // A page that comes back from where the browser kept it trusts no line of before.
      const back = name === "pageshow" && /** @type {PageTransitionEvent} */ (ev).persisted;
      if (back || !source || source.readyState === 2) listen();
      tick();
      drain();
    });
  }
}());
