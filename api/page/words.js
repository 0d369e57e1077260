'use strict';
// What the page says of a plan besides the service's own texts.
const heads = {
  ready: 'It can be cut', asking: 'We need an answer', refused: 'It cannot be cut like this',
  failed: 'We could not work it out', cancelled: 'Cancelled', queued: 'Waiting for its turn', working: 'Being worked out',
};
const stages = {
  read: 'reading the drawing', size: 'finding its true size', artwork: 'sorting its lines', weeding: 'working out what comes off',
  layout: 'laying it on the stock', passes: 'planning the knife', estimate: 'adding up time and price',
};
const pictures = {
  size: 'Size', artwork: 'Lines', stack: 'Films on each other', weeding: 'What comes off', layout: 'On the stock', passes: 'Order of cutting',
};
const fileNames = { dxf: 'DXF', svg: 'SVG', plt: 'plotter file', txt: 'what is set at the machine' };
const lines = {
  material: 'Material', tape: 'Transfer tape', machine: 'Cutter', labour: 'Bench', blade: 'Wear of the blade', minimum: 'Up to the smallest bill', tax: 'Tax',
};

const plural = (n, one, many) => n + ' ' + (n === 1 ? one : many);
const length = mm => (mm < 1 ? +mm.toFixed(2) : +mm.toFixed(1)).toString();
const extent = s => length(s.width_mm) + ' × ' + length(s.height_mm) + ' mm';
const minutes = v => plural(Math.max(1, Math.round(v)), 'minute', 'minutes');

function amount(usage) {
  return usage.sheets ? plural(usage.sheets, 'sheet', 'sheets') : (usage.roll_mm / 1000).toFixed(2) + ' m of roll';
}

// gist is the plan in one line: how large, how often, of what.
function gist(plan, stockName) {
  const out = [plural(plan.copies, 'copy', 'copies') + ' on ' + stockName];
  if (plan.size && plan.size.width_mm) out.unshift(extent(plan.size));
  return out.join(' · ');
}

// money writes minor units with the digits of the price list.
function money(minor, e) {
  return (minor / 10 ** e.minor_digits).toFixed(e.minor_digits) + ' ' + e.currency;
}
