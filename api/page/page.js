'use strict';
// The page sends a drawing once, asks for a plan of it, and asks anew whenever a choice changes.
const $ = id => document.getElementById(id);
const settled = ['ready', 'asking', 'refused', 'failed', 'cancelled'];
let drawing = null; // the id of what was sent
let file = null; // what is to be sent first
let shown = null; // the plan on the page
let tried = null; // the change of a hint that is shown, and how it is taken back
let asking = new AbortController(); // ends what an older choice had asked for
const stocks = {}; // by their ids

async function call(url, init = {}) {
  const r = await fetch(url, { ...init, signal: asking.signal, headers: { Accept: 'application/json', ...access.headers(), ...init.headers } });
  access.note(r);
  const body = await r.json();
  if (!r.ok) throw new Error([body.detail, body.change].filter(Boolean).join(' '));
  return body;
}

// say tells what is being done, and how far it is of all its steps.
function say(text, progress) {
  // What is read aloud changes with the step alone, and not with every per cent.
  if ($('state').firstChild?.data !== text) $('state').textContent = text;
  $('state').querySelector('span')?.remove();
  $('progress').hidden = !progress;
  if (progress) {
    const share = progress.find(g => g.share)?.share || 0;
    $('progress').max = progress.length;
    $('progress').value = progress.filter(g => g.state === 'done').length + share;
    if (share) $('state').append(make('span', { 'aria-hidden': 'true' }, ' ' + Math.round(100 * share) + ' % of this step'));
  }
}

// attempt runs one exchange with the service, in place of the one before it.
async function attempt(work) {
  asking.abort();
  asking = new AbortController();
  const mine = asking;
  $('plan').setAttribute('aria-busy', 'true');
  try { await work(); } catch (e) {
    if (mine.signal.aborted) return;
    say('');
    const text = e instanceof TypeError ? 'The workshop service does not answer. Nothing is lost; try again.' : e.message;
    $('plan').replaceChildren(make('div', { class: 'card block', role: 'alert' }, text));
    $('plan').hidden = false;
  }
  if (mine === asking) $('plan').removeAttribute('aria-busy');
}

function choices() {
  const stock = document.querySelector('input[name=stock]:checked'), purpose = document.querySelector('input[name=purpose]:checked').value;
  const size = {};
  if ($('frame').value.trim()) size.frame = $('frame').value.trim();
  if ($('width').value > 0) size.known_length = { of: 'width', mm: Number($('width').value) };
  return {
    drawing_id: drawing, ...(films() || { stock_id: stock && stock.value }), copies: Math.max(1, Number($('copies').value) || 1),
    ...(purpose && { purpose }), ...(Object.keys(size).length && { size }), ...($('novice').checked && { options: { novice: true } }),
    ...(shown && shown.drawing_id === drawing && Object.keys(shown.answers || {}).length && { answers: said(shown.answers) }),
  };
}

// films are those of the layered work that is shown, to ask for all of them again, as long as no other stock is chosen.
function films() {
  const s = shown && shown.drawing_id === drawing && shown.stack, stock = document.querySelector('input[name=stock]:checked');
  if (!s || stock && stock.value !== shown.stock_id || s.films.some(f => !(f.rules || []).length)) return null;
  const all = [...s.films].sort((a, b) => a.film - b.film);
  return { films: all.flatMap(f => f.rules.map(r => ({ stock_id: f.stock_id, ...r }))), meet: s.meet, ...(s.underlap_mm && { underlap_mm: s.underlap_mm }) };
}

// said are the answers given so far, as a new plan takes them.
function said(answers) {
  const out = {};
  for (const [id, a] of Object.entries(answers)) out[id] = { answer: a.answer, ...(a.value_mm && { value_mm: a.value_mm }), ...(a.reason && { reason: a.reason }) };
  return out;
}

async function upload() {
  say('Sending the drawing …');
  const form = new FormData();
  form.append('drawing', file);
  const answer = await call('/v1/drawings', { method: 'POST', body: form, headers: access.sending(file) });
  drawing = answer.id;
  file = null;
}

// order asks for a plan of what is chosen now.
const order = focus => attempt(async () => {
  if (file) await upload();
  say('Working it out …');
  await follow(await call('/v1/plans', { method: 'POST', headers: { 'Content-Type': 'application/json', Prefer: 'wait=2' }, body: JSON.stringify(choices()) }), focus);
});

// reply sends the answers to what a plan asks.
const reply = plan => answers => attempt(async () => {
  say('Working it out …');
  await follow(await call(plan.links.answers, { method: 'POST', headers: { 'Content-Type': 'application/json', Prefer: 'wait=2' }, body: JSON.stringify({ answers }) }), true);
});

// follow waits until the plan is settled, and says meanwhile what is being done.
async function follow(plan, focus) {
  history.replaceState(null, '', '#' + plan.id);
  while (!settled.includes(plan.status)) {
    const now = plan.progress.find(g => g.state !== 'done');
    say('Working it out: ' + (now ? stages[now.stage] : 'nearly done') + ' …', plan.progress);
    plan = await call(plan.links.self, { headers: { Prefer: 'wait=2' } });
  }
  show(plan, focus);
}

function show(plan, focus) {
  const tab = shown && shown.drawing_id === plan.drawing_id && shown.status === plan.status && document.querySelector('[role=tab][aria-selected=true]');
  shown = plan;
  drawing = plan.drawing_id;
  const stock = plan.stack && document.querySelector('input[name=stock][value="' + CSS.escape(plan.stock_id) + '"]');
  if (stock) stock.checked = true; // of several films the one that is shown
  const acts = { reply: reply(plan), tryOut, undo: tried, again: () => order(true), choose: () => $('file').click() };
  $('plan').replaceChildren(...planParts(plan, stocks[plan.stock_id] ? stocks[plan.stock_id].name : plan.stock_id, acts, tab && tab.id.slice('tab-'.length)));
  document.querySelector('main').classList.add('with-plan');
  $('plan').hidden = false;
  say('');
  if (focus) { $('plan').focus({ preventScroll: true }); $('plan').scrollIntoView(); }
}

// tryOut makes the change of a hint and asks for the plan with it; until another choice is made it can be taken back.
function tryOut(plan, hint) {
  const fields = [$('copies'), $('width'), $('frame')], before = fields.map(f => f.value), size = plan.size;
  if (hint.fewer) $('copies').value = plan.copies - hint.fewer;
  else {
    const share = hint.narrower_mm ? 1 - hint.narrower_mm / size.width_mm : 1 - hint.shorter_mm / size.height_mm;
    $('width').value = Math.floor(100 * share * size.width_mm + 1e-6) / 100;
    $('frame').value = '';
    $('width').closest('details').open = true;
  }
  const text = hint.text.split(/[:,]/)[0];
  tried = { text, run: () => { fields.forEach((f, i) => { f.value = before[i]; }); tried = null; order(true); } };
  order(true);
}

function take(f) {
  file = f;
  shown = tried = null;
  $('chosen').textContent = f.name;
}

async function loadStocks() {
  const list = (await call('/v1/stocks')).stocks;
  $('stocks').append(...list.map(s => {
    stocks[s.id] = s;
    return make('label', {}, make('input', { type: 'radio', name: 'stock', value: s.id }), stockPicture(s), make('span', {}, s.name));
  }));
  if (!list.length) $('stocks').append('The workshop has not listed any stock yet.');
}

// reopen shows the plan that the address names.
async function reopen() {
  const id = location.hash.slice(1);
  if (!/^[0-9a-f-]{36}$/.test(id) || shown && shown.id === id) return;
  await attempt(async () => {
    const plan = await call('/v1/plans/' + id);
    const at = document.querySelector('input[name=stock][value="' + CSS.escape(plan.stock_id) + '"]');
    if (at) { at.checked = true; showStarter(stocks[at.value]); }
    $('copies').value = plan.copies;
    $('chosen').textContent = 'The drawing of this plan, or another one';
    await follow(plan, false);
  });
}

$('order').onsubmit = e => {
  e.preventDefault();
  if (!file && !drawing) { say('Choose a drawing first.'); return $('file').focus(); }
  if (!document.querySelector('input[name=stock]:checked')) { say('Choose what it is cut from.'); const s = document.querySelector('input[name=stock]'); return s && s.focus(); }
  order(true);
};

$('stocks').addEventListener('change', e => showStarter(stocks[e.target.value]));

// A choice that changes after the first plan asks for another one at once; what is asked of a starter file is none.
let later;
$('order').addEventListener('input', e => {
  if (!shown || e.target.type === 'file' || e.target.closest('#starter')) return;
  clearTimeout(later);
  tried = null;
  later = setTimeout(() => order(false), e.target.type === 'number' || e.target.id === 'frame' ? 400 : 0);
});

// A drawing that was changed is checked at once, also where it has the name that it had.
$('file').onclick = () => { $('file').value = ''; };
$('file').onchange = () => {
  const again = shown;
  if (!$('file').files[0]) return;
  take($('file').files[0]);
  if (again) order(true);
};
for (const kind of ['dragover', 'dragleave', 'drop']) {
  $('drop').addEventListener(kind, e => {
    e.preventDefault();
    $('drop').classList.toggle('over', kind === 'dragover');
    if (kind === 'drop' && e.dataTransfer.files[0]) take(e.dataTransfer.files[0]);
  });
}
for (const b of document.querySelectorAll('[data-example]')) {
  b.onclick = async () => {
    const r = await fetch('/page/' + b.dataset.example);
    take(new File([await r.blob()], b.dataset.example, { type: 'image/svg+xml' }));
    const stock = document.querySelector('input[name=stock][value="' + b.dataset.stock + '"]') || document.querySelector('input[name=stock]');
    if (stock) { stock.checked = true; showStarter(stocks[stock.value]); }
    order(true);
  };
}
addEventListener('hashchange', reopen);
loadStocks().then(reopen, e => say(e.message));
