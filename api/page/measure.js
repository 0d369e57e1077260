'use strict';
// The page behind the code on a worksheet or a test cut. The code carries the path that this page may speak to, signed, behind the
// # of the address; nothing else is needed. What the service says is measured is asked, sent once, and answered.
const $ = id => document.getElementById(id);
const at = /^#(\/v1\/(?:plans\/([0-9a-f-]{36})\/measured|settings\/[a-z0-9._-]+\/marks\/[a-z0-9._-]+\/[a-z0-9._-]+)(?:\?signed=[\w.-]+)?)$/.exec(location.hash);
let key = ''; // what the Idempotency-Key of a report begins with

async function call(init) {
  let r;
  try { r = await fetch(at[1], init); } catch { throw new Error('The workshop service does not answer. Nothing is lost; try again.'); }
  const body = await r.json();
  if (!r.ok) throw Object.assign(new Error(body.detail + ' ' + body.change), body);
  return body;
}

function make(tag, attributes = {}, ...children) {
  const e = document.createElement(tag);
  for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v);
  e.append(...children);
  return e;
}

// row is one field with its unit, and room for what is wrong with it.
function row(f) {
  const input = make('input', { id: f.name, name: f.name, inputmode: 'decimal', autocomplete: 'off', maxlength: 9, 'aria-describedby': f.name + '-wrong' });
  return make('div', { class: 'value' }, make('label', { for: f.name }, f.label + (f.unit === 'mm' ? ', in mm' : '')), input, make('p', { id: f.name + '-wrong', class: 'wrong' }));
}

// number reads what was typed, with a point or a comma; null where it is none.
const number = text => /^\d{1,6}([.,]\d{0,3})?$/.test(text) && parseFloat(text.replace(',', '.')) > 0 ? parseFloat(text.replace(',', '.')) : null;

function wrong(name, text) {
  $(name + '-wrong').textContent = text;
  $(name).setAttribute('aria-invalid', text ? 'true' : 'false');
}

// read returns the values by their names; null where one is no number, or none is there.
function read(fields) {
  const values = {}, bad = [];
  for (const { name } of fields) {
    const text = $(name).value.trim(), v = number(text);
    wrong(name, text && v === null ? 'A number, please, such as 136.4.' : '');
    if (text && v === null) bad.push(name);
    if (v !== null) values[name] = v;
  }
  if (!bad.length && !Object.keys(values).length) {
    wrong(fields[0].name, 'Fill in at least one of them.');
    bad.push(fields[0].name);
  }
  if (bad.length) { $(bad[0]).focus(); return null; }
  return values;
}

function doubt(e, fields) {
  const name = fields.some(f => f.name === e.field) ? e.field : '';
  if (e.code !== 'doubtful_value' || !name) return false;
  wrong(name, e.detail);
  if (!$('sure')) $('send').before(make('label', { class: 'tick' }, make('input', { type: 'checkbox', id: 'sure' }), ' I have measured again, and it is so.'));
  $(name).focus();
  return true;
}

async function report(fields) {
  const values = read(fields), sure = Boolean($('sure') && $('sure').checked);
  if (!values) return;
  const once = key + '-' + Object.entries(values).map(([k, v]) => k[0] + v).join('-') + (sure ? '-sure' : '');
  $('send').disabled = true;
  $('text').textContent = 'Sending …';
  try {
    show(await call({ method: 'POST', headers: { 'Content-Type': 'application/json', 'Idempotency-Key': once }, body: JSON.stringify({ values, sure }) }));
    $('text').focus();
  } catch (e) {
    $('text').textContent = '';
    if (!doubt(e, fields)) { $('text').textContent = e.message; $('text').focus(); }
  }
  if ($('send')) $('send').disabled = false;
}

function show(sheet) {
  key = sheet.key;
  document.title = $('title').textContent = sheet.title;
  $('about').textContent = sheet.about;
  $('text').textContent = sheet.text;
  $('values').hidden = sheet.state !== 'open';
  $('values').replaceChildren(...(sheet.state === 'open' ? [...sheet.fields.map(row), make('button', { id: 'send' }, 'Send')] : []));
  $('values').onsubmit = e => { e.preventDefault(); if (!$('send').disabled) report(sheet.fields); };
  $('answers').replaceChildren(...sheet.answers.map(a => make('li', { class: a.as_planned ? 'card' : 'card question' }, a.text)));
  $('answers').hidden = !sheet.answers.length;
  if (at[2]) { $('whole').hidden = false; $('whole').firstChild.href = '/#' + at[2]; }
}

if (at) call().then(show, e => { $('about').textContent = ''; $('text').textContent = e.message; });
else $('about').textContent = 'This address is not whole. Point the camera at the code on the sheet again.';
addEventListener('hashchange', () => location.reload());
