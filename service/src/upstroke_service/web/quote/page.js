/** The service's own page: the form in the visitor's language, with a way to each of the others. */

const { languages } = await (await fetch('/quote/fields.json')).json();
const form = document.querySelector('upstroke-quote');
const places = document.querySelector('#languages');

function speak(language) {
  document.documentElement.lang = language;
  form.setAttribute('language', language);
  for (const button of places.children) button.setAttribute('aria-pressed', String(button.lang === language));
}

for (const language of languages) {
  const button = document.createElement('button');
  button.type = 'button';
  button.lang = language;
  button.textContent = new Intl.DisplayNames([language], { type: 'language' }).of(language);
  button.addEventListener('click', () => speak(language));
  places.append(button);
}

speak(navigator.languages.map((one) => one.split('-')[0]).find((one) => languages.includes(one)) ?? 'en');
await import('./quote.js');
