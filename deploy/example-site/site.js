/** What a dealer's own site adds: it listens to the form, and would post request and answer to its order system. */

const form = document.querySelector('upstroke-quote');
const section = document.querySelector('.order');
const text = document.querySelector('#order');
const sent = document.querySelector('#sent');
let order;

form.addEventListener('upstroke-answer', ({ detail: { request, answer } }) => {
  order = { request, recommended: answer.recommended, calculation: answer.calculation_id };
  section.hidden = !answer.recommended;
  text.textContent = answer.summary;
  sent.textContent = '';
});

form.addEventListener('upstroke-problem', ({ detail: { problem } }) => {
  console.info('no answer:', problem.code);
});

document.querySelector('#send').addEventListener('click', () => {
  // A real site would post this to its own server: fetch('/orders', { method: 'POST', body: JSON.stringify(order) }).
  sent.textContent = `Nothing was sent: this dealer is invented. The request would be filed as ${order.calculation}.`;
});
