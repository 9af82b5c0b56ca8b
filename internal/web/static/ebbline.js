// What script adds to pages that work without it: how fresh the page is, new
// state as it comes, timers, the outbox, and a number pad. ES2017, one file,
// no library; checked by tsc.
"use strict";
(function () {
  /** @type {number} when the server was last heard, by this screen's clock */
  let heard = Date.now();
  /** @type {number} server's clock minus this screen's, in milliseconds */
  let skew = 0;
  const made = document.body.dataset.made;
  if (made) skew = Date.parse(made) - Date.now();

  const quietFor = 20000; // after this long without the server a page is old

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
    if (stale) stale.hidden = !old;
    for (const field of document.querySelectorAll("main input, main button, main select, main textarea")) {
      const f = /** @type {HTMLInputElement} */ (field);
      if (old && !f.disabled) { f.disabled = true; f.dataset.closed = "stale"; }
      if (!old && f.dataset.closed === "stale") { f.disabled = false; delete f.dataset.closed; }
    }
    const fresh = document.querySelector("#fresh time");
    if (fresh && old) fresh.textContent = "heard " + Math.round(silent / 1000) + " s ago";
  }

  /** @param {{state: number, now: string, version: string, unsaved: boolean}} news */
  function hear(news) {
    heard = Date.now();
    skew = Date.parse(news.now) - heard;
    const fresh = document.querySelector("#fresh time");
    if (fresh) fresh.textContent = news.now.slice(11, 19);
    const unsaved = el("unsaved");
    if (unsaved && unsaved.hidden === news.unsaved) refresh();
    if (news.version !== document.body.dataset.version) { location.reload(); return; }
    if (String(news.state) !== document.body.dataset.state) refresh();
    showFreshness();
    drain();
  }

  let source = /** @type {EventSource|null} */ (null);
  function listen() {
    if (!window.EventSource) return;
    if (source) source.close();
    source = new EventSource("/live");
    source.onmessage = function (m) { hear(JSON.parse(m.data)); };
  }

  // ---- new state ----------------------------------------------------------

  let refreshing = false;
  // refresh takes the parts marked data-live from the newest page and leaves
  // every form as it is, so that nothing half typed is lost.
  function refresh() {
    if (refreshing || !document.querySelector("[data-live]")) return;
    refreshing = true;
    fetch(location.href, { headers: { "X-Refresh": "1" } }).then(function (r) { return r.text(); }).then(function (text) {
      const page = new DOMParser().parseFromString(text, "text/html");
      for (const part of document.querySelectorAll("[data-live]")) {
        const next = page.getElementById(part.id);
        if (next) part.replaceWith(next);
      }
      const unsaved = el("unsaved"), now = page.getElementById("unsaved");
      if (unsaved && now) unsaved.replaceWith(now);
      document.body.dataset.state = page.body.dataset.state || "";
      if (page.body.dataset.phase !== document.body.dataset.phase) location.reload();
      tick();
    }).catch(function () { /* the freshness line says it */ }).then(function () { refreshing = false; });
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
    showFreshness();
  }

  // ---- outbox -------------------------------------------------------------

  /** @typedef {{id: string, url: string, body: string, at: number, said?: string}} Letter */

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

  /** @param {Letter} l @returns {Promise<Response>} */
  function post(l) {
    const waited = Math.round((Date.now() - l.at) / 1000);
    const limit = window.AbortController ? new AbortController() : null;
    const timer = setTimeout(function () { if (limit) limit.abort(); }, 4000);
    return fetch(l.url, {
      method: "POST", body: l.body + (waited > 5 ? "&sent=" + waited : ""), signal: limit ? limit.signal : undefined,
      headers: { "Accept": "application/json", "Content-Type": "application/x-www-form-urlencoded" },
    }).then(function (r) { clearTimeout(timer); return r; }, function (e) { clearTimeout(timer); throw e; });
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
          return post(l).then(function (r) { return r.json().then(function (a) { return { r: r, a: a }; }); }).then(function (got) {
            if (got.a.saved) return store("readwrite", function (s) { return s.delete(l.id); }).then(function () { return n + 1; });
            if (got.r.status === 503) throw new Error("not saved");
            l.said = got.a.findings.map(function (/** @type {{words: string}} */ f) { return f.words; }).join("; ");
            return store("readwrite", function (s) { return s.put(l); }).then(function () { return n; });
          });
        });
      }
      return chain.then(function (n) { if (n > 0) refresh(); });
    }).catch(function () { /* still waiting */ }).then(function () { draining = false; showWaiting(); });
  }

  function showWaiting() {
    if (!window.indexedDB) return;
    store("readonly", function (s) { return s.getAll(); }).then(function (letters) {
      let line = el("waiting");
      if (!letters.length) { if (line) line.remove(); return; }
      if (!line) {
        line = document.createElement("div");
        line.id = "waiting"; line.className = "unsaved"; line.setAttribute("role", "status");
        const main = el("main");
        if (main) document.body.insertBefore(line, main);
      }
      const oldest = Math.min.apply(null, letters.map(function (/** @type {Letter} */ l) { return l.at; }));
      line.textContent = "";
      const strong = document.createElement("strong");
      strong.textContent = letters.length + (letters.length === 1 ? " entry is" : " entries are") + " NOT SAVED YET, kept on this screen for " + span(Date.now() - oldest) + ". Write on paper too.";
      line.appendChild(strong);
      for (const l of letters) {
        if (!l.said) continue;
        const p = document.createElement("p");
        p.textContent = "One was not taken: " + l.said + " ";
        const a = document.createElement("a");
        a.href = l.url.replace(/[?#].*/, ""); a.textContent = "type it again"; a.className = "on-stop";
        const b = document.createElement("button");
        b.type = "button"; b.textContent = "take it off this screen";
        b.onclick = function () { store("readwrite", function (s) { return s.delete(l.id); }).then(showWaiting); };
        p.appendChild(a); p.appendChild(document.createTextNode(" ")); p.appendChild(b);
        line.appendChild(p);
      }
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

  document.addEventListener("submit", function (ev) {
    const form = /** @type {HTMLFormElement} */ (ev.target);
    if (!form.classList.contains("entry") || !window.indexedDB || form.dataset.plain) return;
    const id = /** @type {HTMLInputElement|null} */ (form.querySelector('input[name="id"]'));
    if (!id) return;
    ev.preventDefault();
    const by = /** @type {any} */ (ev).submitter || null;
    /** @type {Letter} */
    const letter = { id: id.value, url: form.action, body: fields(form, by), at: Date.now() };
    for (const b of form.querySelectorAll("button")) b.disabled = true;
    post(letter).then(function (r) {
      return r.json().then(function (a) {
        if (a.saved) { location.assign(a.next); return; }
        // Something stands against it: let the server show its own page for it.
        form.dataset.plain = "1";
        for (const b of form.querySelectorAll("button")) b.disabled = false;
        if (by && by.name) {
          const h = document.createElement("input");
          h.type = "hidden"; h.name = by.name; h.value = by.value; form.appendChild(h);
        }
        form.submit();
      });
    }).catch(function () {
      store("readwrite", function (s) { return s.put(letter); }).then(function () {
        showWaiting();
        form.reset();
        for (const b of form.querySelectorAll("button")) b.disabled = false;
        const fresh = /** @type {HTMLInputElement} */ (id);
        fresh.value = newID();
      });
    });
  });

  /** @returns {string} */
  function newID() {
    const b = new Uint8Array(12);
    crypto.getRandomValues(b);
    return "s" + Array.from(b).map(function (x) { return (x < 16 ? "0" : "") + x.toString(16); }).join("");
  }

  // ---- number pad ---------------------------------------------------------

  /** @type {HTMLInputElement|null} */
  let padded = null;
  /** @type {HTMLElement|null} */
  let pad = null;

  function makePad() {
    pad = document.createElement("div");
    pad.className = "pad"; pad.id = "pad"; pad.setAttribute("role", "group"); pad.setAttribute("aria-label", "Number pad");
    for (const k of ["7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0", "⌫", "−", "next", "close"]) {
      const b = document.createElement("button");
      b.type = "button"; b.textContent = k; b.dataset.pad = k;
      if (k === "⌫") b.setAttribute("aria-label", "delete the last digit");
      pad.appendChild(b);
    }
    pad.addEventListener("pointerdown", function (e) { e.preventDefault(); });
    pad.addEventListener("click", function (e) {
      const b = /** @type {HTMLElement} */ (e.target);
      if (b.dataset.pad) press(b.dataset.pad);
    });
    document.body.appendChild(pad);
  }

  /** @param {string} k */
  function press(k) {
    const f = padded;
    if (!f) return;
    if (k === "close") { hidePad(); return; }
    if (k === "next") { nextField(f); return; }
    if (k === "⌫") f.value = f.value.slice(0, -1);
    else if (k === "−") f.value = f.value.charAt(0) === "-" ? f.value.slice(1) : "-" + f.value;
    else if (k === ".") { if (f.dataset.pad !== "0" && f.value.indexOf(".") < 0) f.value += "."; }
    else f.value += k;
    f.dispatchEvent(new Event("input", { bubbles: true }));
    if (k >= "0" && k <= "9" && full(f)) nextField(f);
  }

  // full tells whether no further digit could make sense: the next one would
  // leave the field's bound.
  /** @param {HTMLInputElement} f @returns {boolean} */
  function full(f) {
    const hi = Number(f.dataset.hi), decimals = Number(f.dataset.pad);
    if (!hi || !f.value) return false;
    const point = f.value.indexOf(".");
    if (point >= 0) return f.value.length - point - 1 >= Math.min(decimals, 1) && decimals < 2;
    return decimals === 0 && Math.abs(Number(f.value)) * 10 > hi;
  }

  /** @param {HTMLInputElement} f */
  function nextField(f) {
    const form = f.form;
    if (!form) return;
    const all = Array.from(form.querySelectorAll("input.number")).filter(function (x) { return /** @type {HTMLElement} */ (x).offsetParent !== null; });
    const next = /** @type {HTMLInputElement|undefined} */ (all[all.indexOf(f) + 1]);
    if (next) next.focus();
    else { hidePad(); const b = /** @type {HTMLElement|null} */ (form.querySelector("button.main")); if (b) b.focus(); }
  }

  function hidePad() { if (pad) pad.hidden = true; document.body.classList.remove("has-pad"); padded = null; }

  document.addEventListener("focusin", function (e) {
    const f = /** @type {HTMLInputElement} */ (e.target);
    if (!f.matches || !f.matches("form.keys input.number")) return;
    if (!pad) makePad();
    padded = f;
    f.inputMode = "none"; // the pad is bigger than the screen's own keyboard
    if (pad) { pad.hidden = false; const m = /** @type {HTMLElement|null} */ (pad.querySelector('[data-pad="−"]')); if (m) m.style.visibility = f.dataset.signed ? "visible" : "hidden"; }
    document.body.classList.add("has-pad");
    f.scrollIntoView({ block: "center" });
  });

  // ---- begin --------------------------------------------------------------

  listen();
  tick();
  setInterval(tick, 1000);
  setInterval(drain, 15000);
  drain();
  for (const name of ["visibilitychange", "pageshow", "focus", "online"]) {
    window.addEventListener(name, function () { tick(); drain(); if (source && source.readyState === 2) listen(); });
  }
}());
