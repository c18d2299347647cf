// What the pages of the evidence need of the browser: the theme, and where on a map a pointer or an arrow key went.

export function theme() {
  return document.documentElement.dataset.theme === 'dark';
}

export function watchTheme(page) {
  document.addEventListener('stillwatch-theme', () => page.invokeMethodAsync('ThemeChanged', theme()));
}

const steps = { ArrowUp: [1, 0], ArrowDown: [-1, 0], ArrowLeft: [0, -1], ArrowRight: [0, 1], PageUp: [5, 0], PageDown: [-5, 0], Home: [0, -1000], End: [0, 1000] };

/** Pointer and keys on a map: page is told of a place as shares of width and height, or of steps in limit and threshold. */
export function attachMap(element, page) {
  let asked = false;
  let next = null;
  const tell = async (name, ...values) => {
    next = [name, values];
    if (asked) return; // the last place wins
    asked = true;
    try {
      while (next) {
        const [call, at] = next;
        next = null;
        await page.invokeMethodAsync(call, ...at);
      }
    } finally { asked = false; }
  };
  const point = event => {
    const box = element.getBoundingClientRect();
    tell('Pointed', (event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height);
  };
  element.addEventListener('pointerdown', event => {
    if (event.button !== 0) return;
    element.setPointerCapture(event.pointerId);
    element.focus({ preventScroll: true });
    point(event);
  });
  element.addEventListener('pointermove', event => { if (element.hasPointerCapture(event.pointerId)) point(event); });
  element.addEventListener('keydown', event => {
    const step = steps[event.key];
    if (!step || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    page.invokeMethodAsync('Stepped', step[0], step[1] * (event.shiftKey ? 5 : 1));
  });
}
