'use strict';
// A file to begin a drawing in: the frame and the layers of the workshop, at the true size of the stock that is chosen.
function showStarter(stock) {
  const roll = stock.form === 'roll';
  $('starter-size').hidden = !roll;
  if (roll) {
    $('starter-width').placeholder = Math.floor(stock.usable_width_mm);
    $('starter-width').max = Math.floor(stock.width_mm);
    $('starter-length').max = Math.floor(stock.length_mm);
    $('starter-length').placeholder = Math.min(500, Math.floor(stock.length_mm));
  }
  $('starter').hidden = false;
  $('starter-said').textContent = '';
  for (const b of document.querySelectorAll('[data-starter]')) b.onclick = () => fetchStarter(stock, roll, b.dataset.starter);
}

async function fetchStarter(stock, roll, ending) {
  const ask = new URLSearchParams(), wrong = roll && [$('starter-width'), $('starter-length')].find(i => !i.checkValidity());
  if (wrong) {
    $('starter-said').textContent = 'From ' + wrong.min + ' to ' + wrong.max + ' mm, please.';
    return wrong.focus();
  }
  if (roll && $('starter-width').value) ask.set('width_mm', $('starter-width').value);
  if (roll && $('starter-length').value) ask.set('length_mm', $('starter-length').value);
  const name = stock.id + '.' + ending;
  try {
    $('starter-said').textContent = await access.save('/v1/templates/' + name + '?' + ask, name) + ' is saved. Draw in it, save it, and choose it above.';
  } catch (e) {
    $('starter-said').textContent = e.message;
  }
}
