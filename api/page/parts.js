'use strict';
// The parts that a plan is shown in. Each takes values of the API and returns elements.
const svgNS = 'http://www.w3.org/2000/svg';

// make returns an element with attributes and children, which may be texts.
function make(tag, attributes = {}, ...children) {
  const e = document.createElement(tag);
  for (const [k, v] of Object.entries(attributes)) if (v !== undefined && v !== false) e.setAttribute(k, v === true ? '' : v);
  e.append(...children.filter(c => c !== undefined && c !== null));
  return e;
}

function draw(viewBox, label, ...shapes) {
  const s = document.createElementNS(svgNS, 'svg');
  s.setAttribute('viewBox', viewBox.join(' '));
  if (label) { s.setAttribute('role', 'img'); s.setAttribute('aria-label', label); } else s.setAttribute('aria-hidden', 'true');
  for (const [tag, attributes] of shapes) {
    const e = document.createElementNS(svgNS, tag);
    for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v);
    s.append(e);
  }
  return s;
}

// stockPicture shows a sheet in its proportions, or a roll.
function stockPicture(s) {
  const ink = { fill: 'none', stroke: 'currentColor', 'stroke-width': 1.5 };
  if (s.form === 'roll') return draw([0, 0, 32, 32], '', ['circle', { cx: 11, cy: 16, r: 9, ...ink }], ['circle', { cx: 11, cy: 16, r: 3, ...ink }], ['path', { d: 'M11 25H31', ...ink }]);
  const k = 28 / Math.max(s.width_mm, s.length_mm, 420), w = s.width_mm * k, h = s.length_mm * k;
  return draw([0, 0, 32, 32], '', ['rect', { x: 16 - w / 2, y: 16 - h / 2, width: w, height: h, ...ink }]);
}

// besideCard draws the finished work beside a bank card (85.6 × 54 mm, ISO/IEC 7810 ID-1) at one scale.
// widest is the largest of all answers of the question, so that they compare.
function besideCard(w, h, widest) {
  const gap = 8, width = widest.w + gap + 85.6, height = Math.max(widest.h, 54), line = Math.max(width, height) / 90;
  const box = (x, bw, bh, rx, dash) => ['rect', { x, y: height - bh, width: bw, height: bh, rx, fill: 'none', stroke: 'currentColor', 'stroke-width': line, 'stroke-dasharray': dash }];
  return draw([-line, -line, width + 2 * line, height + 2 * line], 'The finished work beside a bank card',
    box(0, w, h, 0, 'none'), box(widest.w + gap, 85.6, 54, 3.2, 3 * line + ' ' + 2 * line));
}

function questionSet(q) {
  const widest = { w: Math.max(0, ...q.answers.map(a => a.width_mm || 0)), h: Math.max(0, ...q.answers.map(a => a.height_mm || 0)) };
  const swatch = q.colour && make('span', { class: 'swatch' }, draw([0, 0, 8, 8], '', ['rect', { width: 8, height: 8, fill: q.colour }]));
  const set = make('fieldset', {}, make('legend', {}, swatch, q.text), make('p', {}, more(q)));
  set.append(...q.answers.map(a => answerRow(q, a, widest)));
  if (q.parts) set.append(make('details', {}, make('summary', {}, 'Or answer one by one'), ...q.parts.map(questionSet)));
  return set;
}

function answerRow(q, a, widest) {
  const choice = make('input', { type: 'radio', name: q.id, value: a.id });
  const said = a.width_mm && !a.label.includes('your work is ');
  const text = make('span', {}, make('strong', {}, a.label),
    said ? make('div', {}, 'Your work is then ' + extent(a) + '.') : null,
    a.evidence ? make('small', {}, a.evidence) : null);
  const field = (attributes) => {
    const e = make('input', attributes);
    e.oninput = () => { choice.checked = true; };
    text.append(e);
  };
  if (a.needs_mm) field({ type: 'number', min: 0, step: 'any', inputmode: 'decimal', placeholder: 'mm', 'aria-label': a.label + ', in mm' });
  if (a.needs_reason) field({ type: 'text', maxlength: 500, placeholder: 'reason', 'aria-label': a.label + ': the reason' });
  return make('label', { class: 'answer' }, choice, text, a.width_mm ? besideCard(a.width_mm, a.height_mm, widest) : null);
}

// questionForm is one form for all that is asked: what is answered in it is sent at once.
function questionForm(plan, send) {
  if (!plan.questions.length) return null;
  const f = make('form', { class: 'card question', novalidate: true }, ...plan.questions.map(questionSet));
  f.append(make('button', {}, plan.questions.length > 1 ? 'Send the answers' : 'Send the answer'));
  f.onsubmit = e => {
    e.preventDefault();
    const answers = {};
    for (const choice of f.querySelectorAll('input[type=radio]:checked')) {
      const row = choice.closest('label'), mm = row.querySelector('input[type=number]'), why = row.querySelector('input[type=text]');
      if (mm && !(mm.value > 0)) return mm.focus();
      if (why && !why.value.trim()) return why.focus();
      answers[choice.name] = { answer: choice.value, ...(mm && { value_mm: Number(mm.value) }), ...(why && { reason: why.value.trim() }) };
    }
    if (!Object.keys(answers).length) return f.querySelector('input').focus();
    send(answers);
  };
  return f;
}

// more leads to the page that says what a finding or a question is about.
const more = about => make('a', { href: about.help, target: '_blank', 'aria-label': 'What this means: ' + (about.hint || about.text) }, 'What this means');

// findingLists shows what to change first, then what to look at; what was mended is folded away.
function findingLists(plan) {
  const list = severity => plan.findings.filter(f => f.severity === severity);
  const items = fs => make('ul', { class: 'found' }, ...fs.map(f => make('li', {}, make('b', {}, String(f.number)), make('span', {}, f.hint + ' ', more(f)))));
  const out = [];
  if (list('block').length) out.push(make('div', { class: 'card block' }, make('h3', {}, 'Change this in your drawing'), items(list('block'))));
  if (list('warn').length) out.push(make('div', { class: 'card' }, make('h3', {}, 'Have a look'), items(list('warn'))));
  const mended = list('mended');
  if (mended.length) out.push(make('details', { class: 'card' }, make('summary', {}, plural(mended.length, 'thing', 'things') + ' put right for you'), items(mended)));
  return out;
}

// tabs shows one panel at a time; arrow keys move between the tabs (ARIA Authoring Practices, tabs).
function tabs(label, panels, first) {
  const list = make('div', { role: 'tablist', 'aria-label': label });
  const buttons = panels.map(([id, name]) => make('button', { type: 'button', role: 'tab', id: 'tab-' + id, 'aria-controls': 'panel-' + id }, name));
  const bodies = panels.map(([id, , body]) => make('div', { role: 'tabpanel', id: 'panel-' + id, 'aria-labelledby': 'tab-' + id, tabindex: 0 }, body));
  const show = (k, focus) => {
    buttons.forEach((b, i) => { b.setAttribute('aria-selected', i === k); b.tabIndex = i === k ? 0 : -1; bodies[i].hidden = i !== k; });
    bodies[k].firstChild.dispatchEvent(new Event('shown'));
    if (focus) buttons[k].focus();
  };
  buttons.forEach((b, i) => {
    b.onclick = () => show(i);
    b.onkeydown = e => {
      const to = { ArrowRight: i + 1, ArrowLeft: i - 1, Home: 0, End: panels.length - 1 }[e.key];
      if (to !== undefined) { e.preventDefault(); show((to + panels.length) % panels.length, true); }
    };
  });
  list.append(...buttons);
  show(Math.max(0, panels.findIndex(p => p[0] === first)));
  return make('div', { class: 'card' }, list, ...bodies);
}

// widthOf asks for pictures that are laid out for a narrow window, in steps of 20 pixels.
const widthOf = () => innerWidth < 800 ? 'width=' + Math.max(320, 20 * Math.floor((innerWidth - 50) / 20)) + '&' : '';

// pictureOf shows a picture of the plan, a figure for each load. Its address changes with the plan, so that a browser never
// shows an older one.
function pictureOf(plan, name) {
  const byLoad = name === 'weeding' ? plan.layout && plan.layout.panels : ['layout', 'passes'].includes(name);
  const loads = byLoad && plan.layout ? plan.layout.loads : 1;
  const figures = [], link = plan.links[name + '_preview'];
  for (let load = 1; load <= Math.min(loads, 12); load++) {
    const src = link + (link.includes('?') ? '&' : '?') + (loads > 1 ? 'load=' + load + '&' : '') + widthOf() + 'of=' + encodeURIComponent(plan.updated_at);
    const alt = pictures[name] + (loads > 1 ? ', load ' + load + ' of ' + loads : '') + '. The texts above say what it shows.';
    figures.push(make('figure', {}, make('a', { href: src }, make('img', { src, alt, loading: 'lazy' }))));
  }
  if (loads > 12) figures.push(make('p', {}, 'And ' + (loads - 12) + ' more loads.'));
  return make('div', {}, ...figures);
}

function priceOf(plan) {
  const e = plan.estimate, range = r => minutes(r.likely) + ' (' + Math.max(1, Math.round(r.low)) + ' to ' + Math.max(1, Math.round(r.high)) + ')';
  const facts = make('dl', {}, make('dt', {}, 'At the cutter'), make('dd', {}, range(e.cutter_min) + ', book ' + minutes(e.cutter_slot_min)),
    make('dt', {}, 'At the bench'), make('dd', {}, range(e.bench_min) + ', book ' + minutes(e.bench_slot_min)));
  if (!e.total_text) return make('div', {}, facts);
  const rows = e.lines.map(l => make('tr', {}, make('td', {}, lines[l.code] || l.code), make('td', {}, l.quantity + ' ' + l.unit), make('td', {}, money(l.amount_minor, e))));
  rows.push(make('tr', {}, make('th', { scope: 'row', colspan: 2 }, 'Together'), make('td', {}, e.total_text)));
  return make('div', {}, facts, make('h3', {}, 'Price'), make('table', {}, make('tbody', {}, ...rows)));
}

// planParts is all that is shown of a plan, in the order in which a person acts.
function planParts(plan, stockName, send) {
  const head = make('div', {}, make('h2', { id: 'plan-title' }, heads[plan.status]), make('p', { class: 'gist' }, plan.problem_text || gist(plan, stockName)));
  const names = Object.keys(pictures).filter(n => plan.links[n + '_preview']);
  const panels = names.map(n => [n, pictures[n], pictureOf(plan, n)]);
  if (plan.links.load_1_replay) panels.push(['replay', 'Watch it run', replayOf(plan)]);
  if (plan.estimate) panels.push(['price', 'Time and price', priceOf(plan)]);
  const first = plan.status === 'ready' ? 'size' : names[names.length - 1];
  const why = plan.size && plan.size.why ? make('p', { class: 'gist' }, plan.size.why) : null;
  return [
    head, questionForm(plan, send), ...findingLists(plan),
    plan.status === 'ready' ? make('div', { class: 'files' },
      make('a', { href: plan.links.worksheet }, 'Worksheet'), make('a', { href: plan.links.cut_file }, 'File to cut from')) : null,
    panels.length ? tabs('The plan in pictures', panels, first) : null,
    make('details', { class: 'card' }, make('summary', {}, 'How the size is known, and what to mind at the machine'), why,
      make('ul', { class: 'cautions' }, ...plan.cautions.map(t => make('li', {}, t)))),
  ].filter(Boolean);
}
