// SPDX-License-Identifier: Apache-2.0
// Draws pieces of a page again as the server sends them, says when the connection is lost, and sends
// what a person asks. Without it the pages show what they showed when they were loaded.
'use strict';
(() => {
  const main = document.querySelector('main');
  const link = document.getElementById('link');
  const said = document.getElementById('said');
  const events = main && main.dataset.events;
  const SILENT_MS = 8000;
  let heard = Date.now();
  let lost = false;
  let source = null;

  const clock = () => new Date().toTimeString().slice(0, 8);

  const state = (words, isLost) => {
    if (link.textContent !== words) {
      link.textContent = words;
      document.body.classList.toggle('lost', isLost);
    }
  };

  const FAULT = 'This page cannot be drawn: a fault of Millrace itself, kept where its terminal says. What you see is from ';
  let faulty = false;

  const alive = () => {
    heard = Date.now();
    lost = false;
    if (!faulty) {
      state('Connected', false);
    }
  };

  const broken = () => {
    if (!faulty) {
      faulty = true;
      state(FAULT + clock() + '.', true);
    }
  };

  const dropped = () => {
    if (!lost) {
      lost = true;
      state('Connection lost at ' + clock() + '. What you see is from then; it is tried again.', true);
    }
  };

  // A key or a button that is down belongs to what it went down on: a piece drawn again before it is
  // let go would lose the press. What came meanwhile is drawn then.
  let down = false;
  const later = new Map();
  const press = () => { down = true; };
  const letGo = () => {
    down = false;
    setTimeout(() => {
      if (!down) {
        const pieces = [...later];
        later.clear();
        pieces.forEach(([name, html]) => draw(name, html));
      }
    }, 0);
  };
  ['keydown', 'pointerdown'].forEach(e => document.addEventListener(e, press, true));
  ['keyup', 'pointerup', 'pointercancel'].forEach(e => document.addEventListener(e, letGo, true));
  window.addEventListener('blur', letGo);

  const FOCUSABLE = 'summary, button, input, textarea, a';
  const same = (a, b) => a.tagName === b.tagName && a.name === b.name && a.value === b.value
    && a.href === b.href && a.textContent === b.textContent;

  // What was unfolded or is being typed into stays so, unless it is no longer offered.
  const draw = (name, html) => {
    if (down) {
      later.set(name, html);
      return;
    }
    const piece = document.getElementById(name);
    if (!piece) {
      return;
    }
    const open = [...piece.querySelectorAll('details[open]')].map(d => d.dataset.act || '');
    const typed = [...piece.querySelectorAll('input[type=text], textarea')]
      .map(f => [f.form && f.form.elements.what.value, f.name, f.value]);
    const ticked = [...piece.querySelectorAll('input[type=checkbox]:checked')].map(b => b.value);
    const active = piece.contains(document.activeElement) ? document.activeElement : null;
    const place = active && [...piece.querySelectorAll(FOCUSABLE)].indexOf(active);
    piece.innerHTML = html;
    piece.querySelectorAll('details').forEach(d => { d.open = open.includes(d.dataset.act || ''); });
    piece.querySelectorAll('input[type=text], textarea').forEach(f => {
      const was = typed.find(t => t[0] === f.form.elements.what.value && t[1] === f.name);
      f.value = was ? was[2] : f.value;
    });
    piece.querySelectorAll('input[type=checkbox]').forEach(b => { b.checked = ticked.includes(b.value); });
    if (active) {
      const now = [...piece.querySelectorAll(FOCUSABLE)];
      const there = now[place];
      (there && same(there, active) ? there : now.find(e => same(e, active)) || there || main).focus();
    }
  };

  const listen = () => {
    source = new EventSource(events);
    source.addEventListener('piece', e => {
      faulty = false;
      alive();
      const cut = e.data.indexOf('\n');
      draw(e.data.slice(0, cut), e.data.slice(cut + 1));
    });
    source.addEventListener('beat', alive);
    source.addEventListener('fault', () => {
      alive();
      broken();
    });
    source.onerror = dropped;
  };

  const send = async (form, words, again) => {
    const answer = await fetch(form.action, {
      method: 'POST',
      headers: {'X-Page-Script': 'yes'},
      body: words
    });
    if (answer.status === 409 && !again) {
      const fresh = await fetch(main.dataset.token);
      words.set('page-token', await fresh.text());
      form.elements['page-token'].value = words.get('page-token');
      return send(form, words, true);
    }
    return answer.text();
  };

  // On a page that takes scans every key goes to its field, and an answer goes to the question that
  // stood there when it was begun.
  const field = main && main.dataset.scans && document.getElementById('scan');
  const asked = () => document.querySelector('[data-number]').dataset.number;
  let begunFor = null;

  if (field) {
    field.addEventListener('input', () => {
      begunFor = field.value === '' ? null : begunFor || asked();
    });
    document.addEventListener('focusout', () => setTimeout(() => {
      if (document.activeElement === document.body) {
        field.focus();
      }
    }, 0));
    document.addEventListener('click', e => {
      if (!e.target.closest('a, button, input')) {
        field.focus();
      }
    });
    document.addEventListener('keydown', e => {
      if (e.key.length === 1 && !e.ctrlKey && !e.altKey && !e.metaKey) {
        field.focus();
      }
    });
    window.addEventListener('focus', () => field.focus());
    field.focus();
  }

  document.addEventListener('submit', async e => {
    const form = e.target;
    if (form.method !== 'post' || !said) {
      return;
    }
    e.preventDefault();
    const scans = form.contains(field);
    const button = form.querySelector('button');
    if (scans) {
      form.elements.number.value = begunFor || asked();
    } else {
      button.disabled = true;
    }
    const words = new URLSearchParams(new FormData(form));
    if (scans) {
      field.value = '';
      begunFor = null;
    }
    try {
      said.textContent = await send(form, words, false);
      if (!scans) {
        form.closest('details').open = false;
        form.querySelectorAll('input[type=text], textarea').forEach(f => { f.value = ''; });
      }
    } catch (unsent) {
      said.textContent = 'Nothing was taken: the server cannot be reached.';
      dropped();
    } finally {
      button.disabled = false;
      (scans ? field : said).focus();
    }
  });

  if (events) {
    listen();
    setInterval(() => {
      if (Date.now() - heard > SILENT_MS) {
        dropped();
        if (source.readyState === EventSource.CLOSED || Date.now() - heard > 3 * SILENT_MS) {
          source.close();
          heard = Date.now() - SILENT_MS;
          listen();
        }
      }
    }, 1000);
  }
})();
