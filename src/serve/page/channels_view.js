// How far each channel is proven, and its path as a picture.
import { by, fill, make, mark, press } from './dom.js';
import { ask } from './link.js';
import { pictureBox } from './picture_box.js';

const states = { proven: ['■', 'proven'], unproven: ['□', 'not proven'], faulty: ['✗', 'faulty'] };

export function startChannels(go, whileShown) {
  let channels = [];
  let words = '';
  let only = 'all';
  const list = make('ul', { class: 'list' });
  const found = make('p', { role: 'status' });
  const path = make('section', { id: 'path', hidden: true, 'aria-label': 'Path of a channel' });
  const field = make('input', {
    id: 'channel-words',
    type: 'search',
    autocomplete: 'off',
    oninput: (event) => {
      words = event.target.value.toLowerCase();
      draw();
    },
  });
  const choices = make('div', { class: 'choices', role: 'group', 'aria-label': 'Which channels' });

  function wanted(channel) {
    const text = [channel.point, channel.type, channel.address, channel.tag, channel.text]
      .join(' ')
      .toLowerCase();
    return (only === 'all' || channel.state === only) && text.includes(words);
  }

  function row(channel) {
    const [shape, word] = states[channel.state];
    const noPath = channel.state === 'unproven' ? 'Drawn without a whole path' : '';
    const lacks = channel.unproven.length ? `Not proven: ${channel.unproven.join(', ')}` : noPath;
    const why = channel.findings.length ? `Finding ${channel.findings.join(', ')}` : '';
    return make(
      'li',
      { class: 'card channel' },
      make(
        'div',
        { class: 'head' },
        mark(channel.state, shape, word),
        press('Path', () => showPath(channel.point), {
          'data-focus': `path ${channel.point}`,
          'aria-label': `Path of ${channel.point}`,
        }),
      ),
      make('p', {}, make('strong', {}, channel.point), ` ${channel.type} ${channel.address}`),
      make('p', {}, make('strong', {}, channel.tag), channel.text ? `: ${channel.text}` : ''),
      channel.isolated ? null : make('p', { class: 'faint' }, 'Not yet shown apart from the others'),
      lacks || why ? make('p', { class: 'faint' }, [why, lacks].filter(Boolean).join('. ')) : null,
    );
  }

  function draw() {
    const shown = channels.filter(wanted);
    const names = {
      all: 'All',
      ...Object.fromEntries(Object.entries(states).map(([state, [, word]]) => [state, word])),
    };
    fill(
      choices,
      Object.entries(names).map(([state, name]) =>
        press(
          name,
          () => {
            only = state;
            draw();
          },
          { 'aria-pressed': String(only === state) },
        ),
      ),
    );
    found.textContent = `${shown.length} of ${channels.length} channels`;
    fill(list, shown.map(row));
  }

  function showPath(point) {
    path.hidden = false;
    const close = press('Close the path', () => {
      path.hidden = true;
      list.querySelector(`[data-focus="${CSS.escape(`path ${point}`)}"]`)?.focus();
    });
    const picture = pictureBox(`Picture of the path of ${point}`);
    fill(path, make('h2', { tabindex: '-1' }, `Path of ${point}`), picture.box, close);
    path.querySelector('h2').focus();
    return picture.draw(`path?channel=${encodeURIComponent(point)}`);
  }

  async function load() {
    try {
      channels = (await ask('channels')).channels;
      draw();
    } catch {
      found.textContent = channels.length
        ? 'The job is not reached; this may be out of date.'
        : 'The job is not reached.';
    }
  }

  by('channels').append(
    make('h1', { tabindex: '-1' }, 'Channels'),
    path,
    make('div', { class: 'acts' }, press('Map of the panel', () => go('map'))),
    make('label', { for: 'channel-words' }, 'Part of a point, address or tag'),
    field,
    choices,
    found,
    list,
  );
  whileShown('channels', load);
  return {
    showPath(point) {
      field.value = words = point.toLowerCase();
      showPath(point);
    },
  };
}
