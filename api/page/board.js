'use strict';
// A board for a class, to be projected: how far everybody is, by the codes that their work is marked with. It reads one
// path of the API, which its own address brings after a #, every few seconds, and is written anew when that has changed.
const every = 4000; // ms
const rows = [ // what is always shown has true
  ['worked_out', 'Being looked at'], ['asks', 'Answer your question'], ['to_mend', 'Mend it and send it again'],
  ['waits', 'Ready', true], ['at_cutter', 'At the cutter', true], ['at_bench', 'Cut: peel it', true], ['made', 'Made', true],
];
const $ = id => document.getElementById(id);
let tag = ''; // of what is shown
let read = null; // when the service last answered
let next = 0; // the timer of the next look

function make(name, props, ...inside) {
  const e = Object.assign(document.createElement(name), props);
  e.append(...inside);
  return e;
}

// path is what the board is read from; null where the address brings none.
function path() {
  const found = /^#(\/v1\/class-sets\/[0-9a-f-]{36}\/board(\?signed=[\w.-]+)?)$/.exec(location.hash);
  return found && found[1];
}

// codes lists members by the loads that they lie on.
function codes(members) {
  const by = new Map();
  for (const m of members) {
    const on = m.loads && m.loads.length ? 'load ' + m.loads.join(', ') : '';
    by.set(on, [...(by.get(on) || []), m.code]);
  }
  const list = make('dl', {});
  for (const [on, all] of by) list.append(make('dt', {}, on || 'on no load'), ...all.map(code => make('dd', {}, code)));
  return list;
}

function row([standing, title, always], members) {
  const of = members.filter(m => m.standing === standing);
  if (!of.length && !always) return [];
  return [make('section', { className: standing }, make('h2', {}, title, ' ', make('b', {}, String(of.length))),
    of.length ? codes(of) : make('p', { className: 'none' }, 'nobody'))];
}

// fit makes the type as large as all of it fits the screen.
function fit() {
  const root = document.documentElement;
  for (let size = 8; size >= 1.5; size -= .25) {
    root.style.setProperty('--size', size + 'vw');
    if (root.scrollHeight <= innerHeight) return;
  }
}

function show(board) {
  if ($('answer').textContent !== board.answer) $('answer').textContent = board.answer;
  $('board').replaceChildren(...rows.flatMap(r => row(r, board.members)));
  rest(board);
  fit();
}

let last = null;
function rest(board, late) {
  last = board || last;
  const parts = [];
  if (last && last.nothing_received) parts.push(last.nothing_received + (last.nothing_received > 1 ? ' have' : ' has') + ' sent nothing yet.');
  if (last && last.unmarked) parts.push(last.unmarked + (last.unmarked > 1 ? ' have' : ' has') + ' no code yet.');
  if (late) parts.push(late);
  if (read) parts.push('As of ' + read.toLocaleTimeString([], { hour: '2-digit', minute: '2-digit', second: '2-digit' }) + '.');
  $('rest').textContent = parts.join(' ');
  $('rest').classList.toggle('late', Boolean(late));
}

async function look() {
  clearTimeout(next);
  const from = path();
  if (!from) {
    rest(null, 'This address names no board. Take the link board_page of a class set.');
    return;
  }
  try {
    const r = await fetch(from, { cache: 'no-store', headers: { Accept: 'application/json', ...(tag && { 'If-None-Match': tag }) } });
    if (r.status !== 304) {
      const body = await r.json();
      if (!r.ok) throw new Error([body.detail, body.change].filter(Boolean).join(' '));
      tag = r.headers.get('ETag') || '';
      read = new Date();
      show(body);
    }
    read = new Date();
    rest(null);
  } catch (e) {
    rest(null, e instanceof TypeError ? 'The service does not answer; this is what it said last.' : e.message);
  }
  if (from === path()) next = setTimeout(look, every);
}

addEventListener('resize', fit);
addEventListener('hashchange', () => { tag = ''; look(); });
look();
