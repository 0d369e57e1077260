'use strict';
// The player of a load: what the machine does, in its order and time, as /v1/plans/{id}/replays/load-N.json tells it.
const roleWords = {
  lead_in: n => plural(n, 'short cut', 'short cuts') + ' in waste, which ' + (n === 1 ? 'turns' : 'turn') + ' the blade the right way',
  test: n => plural(n, 'test mark', 'test marks') + ' in waste',
  mark: n => plural(n, 'line', 'lines'), relief: n => plural(n, 'relief line', 'relief lines') + ', so that the waste peels in parts',
  inside: n => plural(n, 'cut', 'cuts') + ' inside another', outline: n => plural(n, 'outline', 'outlines'), border: n => plural(n, 'cut', 'cuts') + ' round all of it',
};
const roleNames = { lead_in: 'a short cut in waste', test: 'a test mark', mark: 'a line', relief: 'a relief line', inside: 'a cut inside another', outline: 'an outline', border: 'the cut round all of it' };
const seconds = s => s < 100 ? plural(Math.round(s), 'second', 'seconds') : minutes(s / 60);
const still = matchMedia('(prefers-reduced-motion: reduce)');

// svgOf makes an element of a drawing.
function svgOf(tag, attributes) {
  const e = document.createElementNS(svgNS, tag);
  for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v);
  return e;
}

// wayOf writes the way of a line up to a time as path data.
function wayOf(points, until = Infinity) {
  let d = 'M' + points[0] + ' ' + points[1];
  for (let i = 3; i < points.length; i += 3) {
    if (points[i + 2] > until) {
      const p = between(points, i, until);
      return d + 'L' + p[0] + ' ' + p[1];
    }
    d += 'L' + points[i] + ' ' + points[i + 1];
  }
  return d;
}

// between is where one is at a time who goes evenly to the mark at i.
function between(points, i, s) {
  const from = points[i - 1], share = points[i + 2] > from ? (s - from) / (points[i + 2] - from) : 1;
  return [points[i - 3] + share * (points[i] - points[i - 3]), points[i - 2] + share * (points[i + 1] - points[i - 2])];
}

// placeAt is where the tool is at a time, and whether it is down.
function placeAt(lines, k, s) {
  const l = lines[k], p = l.points, before = k ? lines[k - 1].points : [0, 0, 0];
  if (s >= l.up_s) return [p[p.length - 3], p[p.length - 2], false];
  if (s >= l.down_s) {
    for (let i = 3; i < p.length; i += 3) if (p[i + 2] >= s) return [...between(p, i, s), true];
  }
  const share = Math.min(1, Math.max(0, (s - l.from_s) / Math.max(1e-9, l.down_s - l.from_s))), from = before.slice(-3);
  return [from[0] + share * (p[0] - from[0]), from[1] + share * (p[1] - from[1]), false];
}

// stageOf draws all lines of a load, what is done of them, and the tool. A long load lies on its side.
function stageOf(replay) {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const l of replay.lines) for (let i = 0; i < l.points.length; i += 3) {
    x0 = Math.min(x0, l.points[i]); x1 = Math.max(x1, l.points[i]); y0 = Math.min(y0, l.points[i + 1]); y1 = Math.max(y1, l.points[i + 1]);
  }
  const w = x1 - x0, h = y1 - y0, pad = 0.04 * Math.max(w, h) + 1, lies = h > w;
  const view = lies ? [y0 - pad, x0 - pad, h + 2 * pad, w + 2 * pad] : [x0 - pad, -y1 - pad, w + 2 * pad, h + 2 * pad];
  const svg = svgOf('svg', { viewBox: view.join(' '), role: 'img', class: 'replay' });
  const all = svgOf('g', { transform: lies ? 'matrix(0 1 1 0 0 0)' : 'scale(1 -1)' });
  all.append(svgOf('path', { class: 'ahead', d: replay.lines.map(l => wayOf(l.points)).join('') }));
  const done = replay.lines.map(l => svgOf('path', { class: replay.passes[l.pass - 1].operation, d: wayOf(l.points), visibility: 'hidden' }));
  const now = svgOf('path', { class: 'now', d: '' }), travel = svgOf('path', { class: 'travel', d: '' });
  const tool = svgOf('circle', { class: 'tool', r: Math.max(view[2], view[3]) / 70, cx: 0, cy: 0 });
  all.append(...done, travel, now, tool);
  svg.append(all);
  return { svg, done, now, travel, tool };
}

// stepsOf lists what happens, a step for each change of the pass or of what its lines are for.
function stepsOf(replay) {
  const steps = [];
  for (const l of replay.lines) {
    const last = steps[steps.length - 1];
    if (!last || last.pass !== l.pass || last.copy !== l.copy || last.role !== l.role) steps.push({ pass: l.pass, copy: l.copy, role: l.role, from: l.from_s });
    steps[steps.length - 1].to = l.up_s;
  }
  return steps;
}

// passList tells the order in words, with a button to the start of each pass.
function passList(replay, go) {
  return make('ol', { class: 'order' }, ...replay.passes.map((p, i) => {
    const b = make('button', { type: 'button' }, 'Pass ' + p.number + ': ' + p.words);
    b.onclick = () => go(p.from_s);
    const put = i === 0 || p.changed ? (i ? 'The tool is changed first. ' : '') + 'In the holder: ' + p.tool + '. ' : '';
    const inner = p.counts.some(c => c.role === 'inside') && p.counts.some(c => c.role === 'outline') ? ' What lies inside comes before what holds it, so that nothing comes loose too early.' : '';
    return make('li', {}, b, make('span', {}, put + p.counts.map(c => roleWords[c.role](c.lines)).join(', ') + '; ' + seconds(p.to_s - p.from_s) + '.' + inner));
  }));
}

// player returns the whole player of one load.
function player(replay) {
  const { lines, passes } = replay, stage = stageOf(replay), steps = stepsOf(replay), end = replay.motion_s, copies = lines.some(l => l.copy > 1);
  let at = 0, shownLines = 0, playing = 0, before = 0;
  const play = make('button', { type: 'button', class: 'play' }, 'Play');
  const back = make('button', { type: 'button' }, 'Step back'), on = make('button', { type: 'button' }, 'Step on');
  const slide = make('input', { type: 'range', min: 0, max: end, step: 'any', value: 0, 'aria-label': 'Time in the cut' });
  const said = make('p', { class: 'now-says' }), told = make('p', { role: 'status', class: 'hidden' });
  const speeds = make('fieldset', { class: 'speeds' }, make('legend', {}, 'Speed'), ...[1, 10, 60].map(n =>
    make('label', {}, make('input', { type: 'radio', name: 'speed-' + replay.load, value: n, checked: n === 10 }), n + '×')));

  function sentence(l) {
    const p = passes[l.pass - 1];
    return 'Pass ' + p.number + ' of ' + passes.length + ': ' + p.words + ', with ' + p.tool + '. Now ' + roleNames[l.role] + (l.copy && copies ? ' of copy ' + l.copy : '') + '.';
  }

  function draw() {
    let k = lines.findIndex(l => l.up_s > at);
    if (k < 0) k = lines.length - 1;
    const count = at >= lines[k].up_s ? k + 1 : k;
    for (; shownLines < count; shownLines++) stage.done[shownLines].setAttribute('visibility', 'visible');
    for (; shownLines > count; shownLines--) stage.done[shownLines - 1].setAttribute('visibility', 'hidden');
    const l = lines[k], [x, y, down] = placeAt(lines, k, at), from = k ? lines[k - 1].points.slice(-3) : [0, 0];
    stage.now.setAttribute('d', down ? wayOf(l.points, at) : '');
    stage.travel.setAttribute('d', down || at >= l.up_s ? '' : 'M' + from[0] + ' ' + from[1] + 'L' + x + ' ' + y);
    stage.tool.setAttribute('cx', x);
    stage.tool.setAttribute('cy', y);
    stage.tool.setAttribute('class', down ? 'tool down' : 'tool');
    const text = at >= end ? 'Done.' : sentence(l);
    said.textContent = text + ' ' + Math.floor(at) + ' of ' + seconds(end) + '.';
    stage.svg.setAttribute('aria-label', text);
    slide.value = at;
    slide.setAttribute('aria-valuetext', Math.floor(at) + ' of ' + seconds(end) + '. ' + text);
  }

  function go(to, aloud) {
    at = Math.min(end, Math.max(0, to));
    draw();
    if (aloud) told.textContent = said.textContent;
  }

  function stop() {
    cancelAnimationFrame(playing);
    playing = 0;
    play.textContent = 'Play';
  }

  // frame lets the time run on; where the tool is changed it stops, as the machine does.
  function frame(now) {
    if (!play.isConnected) return stop();
    const to = at + (now - before) / 1000 * speeds.querySelector(':checked').value;
    before = now;
    const change = passes.find(p => p.changed && p.from_s > 0 && p.from_s > at && p.from_s <= to);
    if (change || to >= end) {
      stop();
      go(change ? change.from_s : end, true);
      if (change) told.textContent = said.textContent = 'The machine stops: the tool is changed to ' + change.tool + '. Play goes on with pass ' + change.number + '.';
      return;
    }
    go(to);
    playing = requestAnimationFrame(frame);
  }

  play.onclick = () => {
    if (playing) return stop();
    if (at >= end) at = 0;
    play.textContent = 'Pause';
    playing = requestAnimationFrame(now => { before = now; frame(now); });
  };
  back.onclick = () => { stop(); go((steps.filter(s => s.from < at - 1e-6).pop() || { from: 0 }).from, true); };
  on.onclick = () => { stop(); go((steps.find(s => s.to > at + 1e-6) || { to: end }).to, true); };
  slide.oninput = () => { stop(); go(Number(slide.value)); };
  draw();
  const note = replay.each_of > 1 ? 'So many lines are run that one in ' + replay.each_of + ' is drawn; the time is that of all.' : '';
  const calm = still.matches ? 'Your device asks for less motion, so nothing plays here: go through it in steps.' : '';
  return make('div', { class: 'player' }, stage.svg, said, told, slide,
    make('div', { class: 'controls' }, still.matches ? null : play, back, on, still.matches ? null : speeds),
    make('p', {}, [calm, note, 'Loading, tests and changes of the tool take time too, which is not counted here.'].filter(Boolean).join(' ')),
    passList(replay, s => { stop(); go(s, true); }));
}

// replayOf is the tab of the player. It fetches what a load does once it is looked at.
function replayOf(plan) {
  const body = make('div', {}), box = make('div', {});
  const loads = plan.layout.loads, pick = make('select', {}, ...Array.from({ length: loads }, (_, i) => make('option', { value: i + 1 }, 'load ' + (i + 1) + ' of ' + loads)));
  async function fetchLoad() {
    box.replaceChildren(make('p', {}, 'Working it out …'));
    try {
      box.replaceChildren(player(await call(plan.links.self + '/replays/load-' + pick.value + '.json')));
    } catch (e) {
      box.replaceChildren(make('p', {}, e.message));
    }
  }
  pick.onchange = fetchLoad;
  body.addEventListener('shown', fetchLoad, { once: true });
  if (loads > 1) body.append(make('p', {}, make('label', {}, 'Show ', pick)));
  body.append(box);
  return body;
}
