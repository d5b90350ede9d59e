// Who reads, how the page behaves, keys, cautions.
import { by, fill, make, press } from './dom.js';
import { follow, set, settings } from './settings.js';

const looks = { device: 'As the device', light: 'Light', dark: 'Dark' };

export const keys = [
  ['space', 'beep'],
  ['enter', 'open'],
  ['o', 'to the ohms field; enter logs it'],
  ['u', 'undo the last reading or answer'],
  ['s', 'skip'],
  ['p', 'other points'],
  ['/', 'search'],
  ['r', 'back to reading'],
  ['f', 'findings'],
  ['c', 'channels'],
  ['j', 'journal'],
  ['t', 'I/O test: space and enter are the left and right answer'],
  ['x', 'in an I/O test: not looked'],
  ['w', 'in an I/O test: offer what is on hold, on my word'],
  ['l', 'in an I/O test: all channels'],
  ['v', 'voice on or off'],
  ['?', 'this help'],
  ['escape', 'back to reading'],
];

function toggle(name, words) {
  return press(words, () => set({ [name]: !settings[name] }), {
    'aria-pressed': String(settings[name]),
    class: 'switch',
  });
}

/** Returns `askWho()`, which asks for the name and, if there are several, the meter. */
export function startMore(bench, go) {
  const dialog = by('who');

  function askWho() {
    if (dialog.open) return;
    const name = make('input', {
      id: 'who-name',
      required: true,
      maxlength: '40',
      autocomplete: 'off',
      value: settings.name,
    });
    const meters = bench.state?.meters ?? [];
    const meter = make(
      'select',
      { id: 'who-meter' },
      meters.map((one) => make('option', { value: one, selected: one === settings.meter }, one)),
    );
    const submit = (event) => {
      event.preventDefault();
      if (!name.value.trim()) return;
      set({ name: name.value.trim(), meter: meters.length > 1 ? meter.value : (meters[0] ?? '') });
      dialog.close();
      by('read').querySelector('h1').focus();
    };
    fill(
      dialog,
      make(
        'form',
        { onsubmit: submit, autocomplete: 'off' },
        make('h2', { id: 'who-title' }, 'Who reads?'),
        make('label', { for: 'who-name' }, 'Name or initials'),
        name,
        meters.length > 1 ? [make('label', { for: 'who-meter' }, 'Meter'), meter] : [],
        make('button', { type: 'submit', class: 'strong' }, 'Start'),
      ),
    );
    dialog.showModal();
    name.focus();
  }

  dialog.addEventListener('cancel', (event) => settings.name || event.preventDefault());

  function draw() {
    fill(
      by('more'),
      make('h1', { tabindex: '-1' }, 'More'),
      make(
        'div',
        { class: 'acts' },
        press(`${settings.name || 'No name'}${settings.meter ? `, ${settings.meter}` : ''}: change`, askWho, {
          'data-focus': 'who',
        }),
        press('Temporary changes', () => go('temporary-form')),
      ),
      make('h2', {}, 'Voice and sound'),
      make(
        'div',
        { class: 'acts' },
        toggle('speak', 'Speak the next reading'),
        toggle('tone', 'Tone at a contradiction'),
      ),
      make('h2', {}, 'Look'),
      make(
        'div',
        { class: 'choices', role: 'group', 'aria-label': 'Look' },
        Object.entries(looks).map(([look, words]) =>
          press(words, () => set({ look }), { 'aria-pressed': String(settings.look === look) }),
        ),
      ),
      make('h2', {}, 'Keys and foot-switch'),
      make('div', { class: 'acts' }, toggle('keys', 'Single letters as keys')),
      make(
        'dl',
        { class: 'keys' },
        keys.map(([key, does]) =>
          make('div', {}, make('dt', {}, make('kbd', {}, key)), make('dd', {}, does)),
        ),
      ),
      make(
        'p',
        {},
        'Space and enter answer on the views Read and I/O test, unless a field or another button has the focus.',
      ),
      make('h2', {}, 'Cautions'),
      make(
        'ul',
        {},
        (bench.state?.cautions ?? []).map((caution) => make('li', {}, caution)),
      ),
    );
  }

  follow(draw);
  let cautions = '';
  bench.addEventListener('change', () => {
    const now = (bench.state?.cautions ?? []).join('\n');
    if (now !== cautions) draw();
    cautions = now;
  });
  return askWho;
}
