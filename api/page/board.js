'use strict';
// A board for a class, to be projected: how far everybody is, by the codes that their work is marked with. It reads one
// path of the API, which its own address brings after a #, every few seconds, and is written anew when that has changed.
const every = 4000; // ms
const columns = [ // what is always shown has true
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

function mark(m) {
  const li = make('li', {}, m.code);
  if (m.loads && m.loads.length) li.append(make('small', {}, 'load ' + m.loads.join(', ')));
  return li;
}

function column([standing, title, always], members) {
  const of = members.filter(m => m.standing === standing);
  if (!of.length && !always) return [];
  const list = of.length ? make('ul', {}, ...of.map(mark)) : make('p', { className: 'none' }, 'nobody');
  return [make('section', { className: standing }, make('h2', {}, title, ' ', make('b', {}, String(of.length))), list)];
}

// fit makes the type as large as all of it fits the screen.
function fit() {
  const root = document.documentElement;
  for (let size = 7; size >= 1.5; size -= .25) {
    root.style.setProperty('--size', size + 'vw');
    if (root.scrollHeight <= innerHeight) return;
  }
}

function show(board) {
  if ($('answer').textContent !== board.answer) $('answer').textContent = board.answer;
  $('board').replaceChildren(...columns.flatMap(c => column(c, board.members)));
  rest(board);
  fit();
}

let last = null;
function rest(board, late) {
  last = board || last;
  const parts = [];
  if (last && last.nothing_received) parts.push(last.nothing_received + ' have sent nothing yet.');
  if (last && last.unmarked) parts.push(last.unmarked + ' have no code yet.');
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
