// The strips of a recording: an overview with a brush, and a detail that pans and zooms. The pictures come from the program. While a hand moves,
// the wider picture at hand is shifted and stretched; the one that fits is swapped in when it has arrived. One request at a time; the last wish wins.
const SETTLED_MS = 140;

export function open(root, page, options) {
  const { url, plotLeft, margin, whole } = options;
  const overview = root.querySelector('.strip-overview'), detail = root.querySelector('.strip-detail');
  const exactBox = detail.querySelector('.strip-exact'), movingBox = detail.querySelector('.strip-moving'), slide = detail.querySelector('.strip-slide');
  const picture = overview.querySelector('.strip-picture'), brush = overview.querySelector('.strip-brush'), trouble = root.querySelector('.strip-trouble');
  const least = Math.min(options.least, whole.to - whole.from);
  movingBox.style.left = `${plotLeft}px`;
  movingBox.style.right = `${margin}px`;
  let limits = { ...whole };
  let win = clamp(options.from, options.to), version = 0, lastInput = -1e9, busy = false, closed = false, told = null;
  let exact = null, wide = null, overviewFor = '';

  const plotWidth = () => Math.max(100, detail.clientWidth - plotLeft - margin);
  const theme = () => document.documentElement.dataset.theme ?? 'light';
  const stamp = () => `${version} ${detail.clientWidth} ${theme()}`;

  function clamp(from, to) {
    let span = Math.min(Math.max(to - from, least), limits.to - limits.from);
    const middle = (from + to) / 2;
    let start = Math.min(Math.max(middle - span / 2, limits.from), limits.to - span);
    return { from: Math.round(start), to: Math.round(start + span) };
  }

  function show(from, to, isMoving) {
    win = clamp(from, to);
    if (isMoving) lastInput = performance.now();
    render();
    pump();
  }

  function render() {
    const fits = exact && exact.from === win.from && exact.to === win.to;
    const source = wide ?? exact;
    movingBox.hidden = fits || !source;
    if (!fits && source) {
      if (slide.dataset.of !== source.key) { slide.replaceChildren(source.node()); slide.dataset.of = source.key; }
      const scale = (source.to - source.from) / (win.to - win.from) * plotWidth() / source.plot;
      slide.style.transform = `translateX(${(source.from - win.from) / (win.to - win.from) * plotWidth() - plotLeft * scale}px) scaleX(${scale})`;
    }
    const across = overview.clientWidth - plotLeft - margin, length = whole.to - whole.from;
    brush.style.left = `${plotLeft + (win.from - whole.from) / length * across}px`;
    brush.style.width = `${Math.max(3, (win.to - win.from) / length * across)}px`;
  }

  async function pump() {
    if (busy) return;
    busy = true;
    try {
      while (!closed) {
        if (overviewFor !== stamp()) await fetchOverview();
        else if (performance.now() - lastInput < SETTLED_MS) {
          if (needsWide(1.6)) await fetchWide(); else await new Promise(requestAnimationFrame);
        } else if (!exact || exact.from !== win.from || exact.to !== win.to || exact.stamp !== stamp()) await fetchExact();
        else {
          tell();
          if (needsWide(1.05)) await fetchWide(); else break;
        }
      }
      trouble.hidden = true;
    } catch (e) {
      if (!closed) { trouble.hidden = false; trouble.querySelector('.strip-why').textContent = e.message; }
    } finally { busy = false; }
  }

  function needsWide(tolerance) {
    if (!wide || wide.stamp !== stamp()) return true;
    const zoom = wide.span / (win.to - win.from), drift = Math.abs(wide.middle - (win.from + win.to) / 2) / (win.to - win.from);
    return zoom > tolerance || zoom < 1 / tolerance || (drift > (tolerance > 1.5 ? 0.6 : 0.05) && !(wide.from === limits.from && wide.to === limits.to));
  }

  async function fetchExact() {
    const wanted = { ...win }, at = stamp();
    const svg = await get(`&from=${wanted.from}&to=${wanted.to}&width=${detail.clientWidth}&name=detail`);
    if (at !== stamp()) return;
    exactBox.replaceChildren(svg);
    exact = { ...wanted, stamp: at, plot: plotWidth(), key: `e${wanted.from}-${wanted.to}-${at}`, node: () => { const copy = svg.cloneNode(true); copy.setAttribute('aria-hidden', 'true'); return copy; } };
    detail.style.minHeight = `${svg.height.baseVal.value}px`;
    detail.classList.toggle('stays', svg.height.baseVal.value < innerHeight * 0.62);
    render();
  }

  async function fetchWide() {
    const span = win.to - win.from, at = stamp(), middle = (win.from + win.to) / 2;
    const from = Math.max(limits.from, win.from - span), to = Math.min(limits.to, win.to + span);
    const plot = Math.round(plotWidth() * (to - from) / span);
    const svg = await get(`&from=${from}&to=${to}&width=${plot + plotLeft + margin}&name=wide`);
    svg.setAttribute('aria-hidden', 'true');
    wide = { from, to, span, middle, plot, stamp: at, key: `w${from}-${to}-${at}`, node: () => svg };
    render();
  }

  async function fetchOverview() {
    const at = stamp();
    const svg = await get(`&part=overview&width=${overview.clientWidth}&name=overview`);
    picture.replaceChildren(svg);
    overviewFor = at;
    render();
  }

  async function get(query) {
    const answer = await fetch(`${url}${query}&theme=${theme()}`);
    if (!answer.ok) throw new Error(`The picture could not be drawn (${answer.status}). The program may have been stopped.`);
    const holder = document.createElement('div');
    holder.innerHTML = await answer.text();
    return holder.firstElementChild ?? document.createElementNS('http://www.w3.org/2000/svg', 'svg');
  }

  function tell() {
    const now = `${win.from} ${win.to}`;
    if (now === told) return;
    told = now;
    page.invokeMethodAsync('WindowChanged', win.from, win.to);
  }

  // ——— hands ———
  const timeAt = x => win.from + (x - detail.getBoundingClientRect().left - plotLeft) / plotWidth() * (win.to - win.from);

  function zoom(factor, at = (win.from + win.to) / 2) {
    const span = Math.min(Math.max((win.to - win.from) * factor, least), limits.to - limits.from), share = (at - win.from) / (win.to - win.from);
    show(at - span * share, at + span * (1 - share), true);
  }

  const pan = share => show(win.from + (win.to - win.from) * share, win.to + (win.to - win.from) * share, true);

  function act(name) {
    const [what, value] = name.split(':');
    const middle = (win.from + win.to) / 2;
    if (what === 'in') zoom(0.5);
    else if (what === 'out') zoom(2);
    else if (what === 'left') pan(-0.5);
    else if (what === 'right') pan(0.5);
    else if (what === 'start') show(limits.from, limits.from + win.to - win.from);
    else if (what === 'end') show(limits.to - (win.to - win.from), limits.to);
    else if (what === 'all') show(limits.from, limits.to);
    else if (what === 'length') show(middle - value * 500, middle + value * 500);
  }

  const keys = { ArrowLeft: () => pan(-0.25), ArrowRight: () => pan(0.25), '+': () => zoom(0.5), '=': () => zoom(0.5), '-': () => zoom(2), Home: () => act('start'), End: () => act('end'), PageUp: () => pan(-1), PageDown: () => pan(1) };

  function onDetailKey(event) {
    if (event.ctrlKey || event.metaKey || event.altKey || !keys[event.key]) return;
    event.preventDefault();
    keys[event.key]();
  }

  const pointers = new Map();
  let drag = null;

  function onDown(event) {
    if (event.button !== 0) return;
    detail.setPointerCapture(event.pointerId);
    pointers.set(event.pointerId, event.clientX);
    drag = { x: event.clientX, from: win.from, to: win.to, selects: event.shiftKey, start: timeAt(event.clientX), apart: apart() };
  }

  const apart = () => { const [a, b] = [...pointers.values()]; return b === undefined ? 0 : Math.abs(a - b); };

  function onMove(event) {
    if (!drag || !pointers.has(event.pointerId)) return;
    pointers.set(event.pointerId, event.clientX);
    if (pointers.size === 2 && drag.apart > 0) {
      const middle = [...pointers.values()].reduce((a, b) => a + b) / 2, at = drag.from + (middle - detail.getBoundingClientRect().left - plotLeft) / plotWidth() * (drag.to - drag.from);
      const factor = drag.apart / Math.max(10, apart());
      show(at - (at - drag.from) * factor, at + (drag.to - at) * factor, true);
    } else if (!drag.selects && pointers.size === 1) {
      const shift = (drag.x - event.clientX) / plotWidth() * (drag.to - drag.from);
      show(drag.from + shift, drag.to + shift, true);
    }
  }

  function onUp(event) {
    pointers.delete(event.pointerId);
    if (drag?.selects && Math.abs(event.clientX - drag.x) > 4) {
      const [from, to] = [drag.start, timeAt(event.clientX)].sort((a, b) => a - b);
      page.invokeMethodAsync('Selected', Math.round(Math.max(whole.from, from)), Math.round(Math.min(whole.to, to)));
    }
    drag = null;
  }

  function onWheel(event) {
    event.preventDefault();
    if (event.shiftKey || Math.abs(event.deltaX) > Math.abs(event.deltaY)) pan((event.deltaX || event.deltaY) / plotWidth());
    else zoom(Math.exp(Math.sign(event.deltaY) * Math.min(Math.abs(event.deltaY), 120) / 300), timeAt(event.clientX));
  }

  let brushing = null;
  const wholeAt = x => whole.from + (x - overview.getBoundingClientRect().left - plotLeft) / (overview.clientWidth - plotLeft - margin) * (whole.to - whole.from);

  function onBrushDown(event) {
    if (event.button !== 0) return;
    overview.setPointerCapture(event.pointerId);
    const at = wholeAt(event.clientX), box = brush.getBoundingClientRect(), edge = 7;
    const kind = box.width > 3 * edge && Math.abs(event.clientX - box.left) < edge ? 'left' : box.width > 3 * edge && Math.abs(event.clientX - box.right) < edge ? 'right' : event.clientX > box.left - edge && event.clientX < box.right + edge ? 'move' : 'new';
    brushing = { kind, at, from: win.from, to: win.to };
    if (kind === 'new') show(at - (win.to - win.from) / 2, at + (win.to - win.from) / 2, true);
  }

  function onBrushMove(event) {
    if (!brushing) return;
    const at = wholeAt(event.clientX), by = at - brushing.at;
    if (brushing.kind === 'move') show(brushing.from + by, brushing.to + by, true);
    else if (brushing.kind === 'left') show(Math.min(at, brushing.to - least), brushing.to, true);
    else if (brushing.kind === 'right') show(brushing.from, Math.max(at, brushing.from + least), true);
    else if (Math.abs(by) > (whole.to - whole.from) / 200) show(Math.min(at, brushing.at), Math.max(at, brushing.at), true);
  }

  const onBrushUp = () => { brushing = null; };

  // Letters and digits for review: only where no field is being filled in, and only as long as the page wants them.
  function onKey(event) {
    if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
    if (event.target.closest('input, select, textarea, [contenteditable]')) return;
    const key = event.key.toLowerCase();
    const isList = event.target.closest('[data-keys="events"]') && (key === 'arrowdown' || key === 'arrowup');
    if (!isList && (!root.dataset.keys || !['j', 'k', 'u', '1', '2', '3', '4', 'n'].includes(key))) return;
    event.preventDefault();
    page.invokeMethodAsync('Key', key);
  }

  const onClick = event => { const button = event.target.closest('[data-act]'); if (button) act(button.dataset.act); };
  const again = () => pump();
  const refreshTheme = () => { render(); pump(); };
  detail.addEventListener('keydown', onDetailKey);
  detail.addEventListener('pointerdown', onDown);
  detail.addEventListener('pointermove', onMove);
  detail.addEventListener('pointerup', onUp);
  detail.addEventListener('pointercancel', onUp);
  detail.addEventListener('wheel', onWheel, { passive: false });
  overview.addEventListener('pointerdown', onBrushDown);
  overview.addEventListener('pointermove', onBrushMove);
  overview.addEventListener('pointerup', onBrushUp);
  overview.addEventListener('pointercancel', onBrushUp);
  root.addEventListener('click', onClick);
  trouble.querySelector('button').addEventListener('click', again);
  document.addEventListener('keydown', onKey);
  document.addEventListener('stillwatch-theme', refreshTheme);
  const watch = new ResizeObserver(() => { render(); pump(); });
  watch.observe(detail);
  pump();

  return {
    show: (from, to) => show(from, to),
    refresh: () => { version++; pump(); },
    keep: (from, to) => { limits = { from, to }; show(from, to); },
    scrollTo: selector => document.querySelector(selector)?.scrollIntoView({ block: 'nearest' }),
    focus: () => detail.focus({ preventScroll: true }),
    close: () => {
      closed = true;
      watch.disconnect();
      document.removeEventListener('keydown', onKey);
      document.removeEventListener('stillwatch-theme', refreshTheme);
    },
  };
}

// A name for as long as this tab is open: the next reviewer at this machine starts without it.
export const readReviewer = () => sessionStorage.getItem('stillwatch-reviewer') ?? '';
export const writeReviewer = name => sessionStorage.setItem('stillwatch-reviewer', name);
