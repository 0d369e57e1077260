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

// lineSwatch draws the lines that a question is about as they are drawn: whole, dashed, or dash and dot.
function lineSwatch(q) {
  const dash = { whole: 'none', dashed: '14 8', dash_dot: '20 6 3 6' }[q.line];
  return make('span', { class: 'drawn' }, draw([0, 0, 100, 12], { whole: 'A whole line', dashed: 'Dashes', dash_dot: 'Dash and dot' }[q.line],
    ['rect', { width: 100, height: 12, fill: '#fff' }], ['path', { d: 'M4 6H96', fill: 'none', stroke: q.colour || '#000', 'stroke-width': 2.5, 'stroke-dasharray': dash }]));
}

function questionSet(q) {
  const widest = { w: Math.max(0, ...q.answers.map(a => a.width_mm || 0)), h: Math.max(0, ...q.answers.map(a => a.height_mm || 0)) };
  const swatch = q.line ? lineSwatch(q) : q.colour && make('span', { class: 'swatch' }, draw([0, 0, 8, 8], '', ['rect', { width: 8, height: 8, fill: q.colour }]));
  const sizes = new Set(q.answers.map(a => a.width_mm ? extent(a) : ''));
  if (sizes.size < 2) widest.w = 0;
  const set = make('fieldset', {}, make('legend', {}, swatch, q.text), make('p', {}, more(q)));
  const drawn = (q.parts || []).filter(p => p.line);
  if (drawn.length) set.append(make('ul', { class: 'lines' }, ...drawn.map(p => make('li', {}, lineSwatch(p), make('span', {}, p.text)))));
  set.append(...q.answers.map(a => answerRow(q, a, widest)));
  if (q.parts) set.append(make('details', {}, make('summary', {}, 'Or answer one by one'), ...q.parts.map(questionSet)));
  return set;
}

function answerRow(q, a, widest) {
  const choice = make('input', { type: 'radio', name: q.id, value: a.id });
  const said = widest.w && a.width_mm && !a.label.includes('your work is ');
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
  return make('label', { class: 'answer' }, choice, text, widest.w && a.width_mm ? besideCard(a.width_mm, a.height_mm, widest) : null);
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

// findingLists shows what to change first, then what to look at; what was answered and what was mended is folded away.
function findingLists(plan) {
  const list = severity => plan.findings.filter(f => f.severity === severity);
  const items = fs => make('ul', { class: 'found' }, ...fs.map(f => make('li', {}, make('b', {}, String(f.number)), make('span', {}, f.hint + ' ', more(f)))));
  const out = [];
  if (list('block').length) out.push(make('div', { class: 'card block' }, make('h3', {}, 'Change this in your drawing'), items(list('block'))));
  const look = list('warn').filter(f => !f.answered), answered = list('warn').filter(f => f.answered), mended = list('mended');
  if (look.length) out.push(make('div', { class: 'card' }, make('h3', {}, 'Have a look'), items(look)));
  if (answered.length) out.push(make('details', { class: 'card' }, make('summary', {}, plural(answered.length, 'thing', 'things') + ' as you answered'), items(answered)));
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

// widthOf asks for pictures that are laid out for the room that there is, in steps of 20 pixels: the window, less the choices where
// these stand beside the plan (1024 and 1376 pixels are 64 and 86 rem of page.css).
function widthOf() {
  const room = innerWidth < 1024 ? innerWidth - 50 : Math.min(innerWidth, 1376) - 450;
  return room < 750 ? 'width=' + Math.max(320, 20 * Math.floor(room / 20)) + '&' : '';
}

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

// testsOf gives out the test cuts that settings of the plan need first: a sheet to follow, and a file to cut from.
function testsOf(plan) {
  const first = (plan.passes || []).filter((p, i, all) => p.test_cut && all.findIndex(o => o.test_cut === p.test_cut) === i);
  if (!first.length) return null;
  const said = make('p', { 'aria-live': 'polite' });
  const file = (p, name, text) => {
    const b = make('button', { type: 'button', 'aria-label': text + ' of the test cut for the ' + p.operation.replaceAll('_', ' ') }, text);
    b.onclick = async () => {
      try { said.textContent = await access.save(p.test_cut.replace('sheet.json', name)) + ' is saved.'; } catch (e) { said.textContent = e.message; }
    };
    return b;
  };
  return make('details', { open: true }, make('summary', {}, plural(first.length, 'test cut', 'test cuts') + ' to make first'),
    make('ul', { class: 'loads tests' }, ...first.map(p => make('li', {}, p.operation.replaceAll('_', ' ') + ': ',
      ...[['sheet.pdf', 'Sheet'], ['cut.dxf', 'DXF'], ['cut.svg', 'SVG'], ['cut.plt', 'PLT']].flatMap(([name, text]) => [file(p, name, text), ' '])))), said);
}

// filesOf links the files to cut from, a line for each load.
function filesOf(plan) {
  const loads = [];
  for (let n = 1; plan.links['load_' + n + '_dxf']; n++) {
    loads.push(make('li', {}, 'Load ' + n + ': ', ...['dxf', 'svg', 'plt', 'txt'].flatMap(e => [make('a', { href: plan.links['load_' + n + '_' + e], 'aria-label': fileNames[e] + ' of load ' + n }, fileNames[e]), ' '])));
  }
  return loads.length ? make('details', { open: loads.length === 1 }, make('summary', {}, 'Files to cut from'), make('ul', { class: 'loads' }, ...loads)) : null;
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

// takenBy is what a plan that is ready takes, what would take less, each to be tried at once, and the next step.
function takenBy(plan, acts) {
  const e = plan.estimate, facts = make('dl', { class: 'facts' });
  const fact = (name, text) => text && facts.append(make('div', {}, make('dt', {}, name), make('dd', {}, text)));
  if (plan.usage) fact('Stock', amount(plan.usage));
  if (e) fact('Time', minutes(e.cutter_min.likely) + ' at the cutter, ' + minutes(e.bench_min.likely) + ' at the bench');
  if (e) fact('Price', e.total_text);
  const act = (text, what, run) => { const b = make('button', { type: 'button', 'aria-label': text + ': ' + what }, text); b.onclick = run; return b; };
  const hints = (e && e.cheaper || []).map(c => make('li', {}, make('span', {}, c.text), act('Try it', c.text, () => acts.tryOut(plan, c))));
  if (acts.undo) hints.push(make('li', {}, make('span', {}, acts.undo.text + ': this is how it comes out.'), act('Undo', acts.undo.text, acts.undo.run)));
  return make('div', { class: 'card' }, make('h3', {}, 'What it takes'), facts,
    hints.length ? make('ul', { class: 'hints', 'aria-label': 'Cheaper by' }, ...hints) : null,
    make('div', { class: 'files' }, make('a', { href: plan.links.worksheet }, 'Worksheet'), make('a', { href: plan.links.cut_file }, 'File to cut from')));
}

// filmsOf lists the films of a layered work as they are put up: each is a plan of its own, and all are one order.
function filmsOf(plan) {
  const s = plan.stack;
  if (!s) return null;
  const items = s.films.map((f, i) => {
    const said = [f.status && f.status !== 'ready' ? heads[f.status] : '', f.total_text].filter(Boolean).join(', ');
    const here = i + 1 === s.place, other = f.plan_id && !here;
    return make('li', here ? { 'aria-current': 'true' } : {}, other ? make('a', { href: '#' + f.plan_id }, f.name) : make('strong', {}, f.name), here ? ' (shown here)' : '', said ? ': ' + said : '');
  });
  const t = s.together;
  return make('div', { class: 'card' }, make('h3', {}, 'Films on each other'), make('p', {}, 'They are put up in this order, the lowest first. Each is cut by a plan of its own.'), make('ol', { class: 'films' }, ...items),
    t ? make('p', {}, make('strong', {}, 'All together: ' + t.total_text), ', ' + minutes(t.cutter_min.likely) + ' at the cutter, ' + minutes(t.bench_min.likely) + ' at the bench') : null,
    ...s.apply.map(text => make('p', {}, text)));
}

// nextOf is what to do about a plan that is not ready and asks nothing.
function nextOf(plan, acts) {
  const b = text => { const e = make('button', { type: 'button' }, text); e.onclick = text === 'Choose the changed drawing' ? acts.choose : acts.again; return make('div', { class: 'files' }, e); };
  return { refused: () => b('Choose the changed drawing'), failed: () => b('Try again'), cancelled: () => b('Check it again') }[plan.status]?.();
}

// backOf links what a maker carries on from: the drawing put right, and the work on paper.
function backOf(plan) {
  const links = [['mended_svg', 'SVG'], ['mended_dxf', 'DXF']].filter(([n]) => plan.links[n]).map(([n, t]) => make('a', { href: plan.links[n], 'aria-label': 'The drawing put right, ' + t }, t));
  if (!links.length && !plan.links.proof) return null;
  const out = make('ul', { class: 'back' });
  if (links.length) out.append(make('li', {}, 'Your drawing as it was put right, to carry on from: ', ...links.flatMap((l, i) => i ? [' or ', l] : [l])));
  if (plan.links.proof) out.append(make('li', {}, 'The work on paper at its true size, to hold where it will go: ', make('a', { href: plan.links.proof }, 'PDF')));
  return out;
}

// planParts is all that is shown of a plan, in the order in which a person acts: what it is, what is asked, what to change or look
// at, what it takes and the next step, and then the pictures. looked names the tab to show.
function planParts(plan, stockName, acts, looked) {
  const head = make('div', { class: 'head ' + plan.status }, make('h2', { id: 'plan-title' }, heads[plan.status]), make('p', { class: 'gist' }, plan.problem_text || gist(plan, stockName)));
  const names = Object.keys(pictures).filter(n => plan.links[n + '_preview']);
  const panels = names.map(n => [n, pictures[n], make('div', {}, pictureOf(plan, n), ...(n === 'passes' ? [testsOf(plan), filesOf(plan)] : []))]);
  if (plan.links.load_1_replay) panels.push(['replay', 'Watch it run', replayOf(plan)]);
  if (plan.estimate) panels.push(['price', 'Time and price', priceOf(plan)]);
  const first = panels.some(p => p[0] === looked) ? looked : plan.status === 'ready' ? 'size' : names[names.length - 1];
  const why = plan.size && plan.size.why ? make('p', { class: 'gist' }, plan.size.why) : null;
  return [
    head, questionForm(plan, acts.reply), ...findingLists(plan), nextOf(plan, acts),
    plan.status === 'ready' ? takenBy(plan, acts) : null, filmsOf(plan),
    panels.length ? tabs('The plan in pictures', panels, first) : null, backOf(plan),
    make('details', { class: 'card' }, make('summary', {}, 'How the size is known, and what to mind at the machine'), why,
      make('ul', { class: 'cautions' }, ...plan.cautions.map(t => make('li', {}, t)))),
  ].filter(Boolean);
}
