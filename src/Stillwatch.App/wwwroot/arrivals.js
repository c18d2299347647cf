// Files from this page to the program: chosen or dropped, sent one after the other, with progress; cancelling stops at once.
let sending = null;
let cancelled = false;

export function attach(root, page) {
  const input = root.querySelector('input.file-input');
  const drop = root.querySelector('.drop');
  input.addEventListener('change', () => { const files = [...input.files]; input.value = ''; send(files, page); });
  for (const name of ['dragenter', 'dragover']) drop.addEventListener(name, event => { event.preventDefault(); drop.classList.add('over'); });
  for (const name of ['dragleave', 'drop']) drop.addEventListener(name, () => drop.classList.remove('over'));
  drop.addEventListener('drop', async event => { event.preventDefault(); send(await filesOf(event.dataTransfer), page); });
}

export function cancel() {
  cancelled = true;
  sending?.abort();
}

// A dropped folder gives the files in it; folders inside it are not searched, as in the commands.
async function filesOf(transfer) {
  const entries = [...transfer.items].map(item => item.webkitGetAsEntry?.()).filter(Boolean);
  if (!entries.some(entry => entry.isDirectory)) return [...transfer.files];
  const files = [];
  for (const entry of entries) {
    if (entry.isFile) files.push(await fileOf(entry));
    else for (const inner of await allOf(entry.createReader())) if (inner.isFile) files.push(await fileOf(inner));
  }
  return files;
}

const fileOf = entry => new Promise((resolve, reject) => entry.file(resolve, reject));

async function allOf(reader) {
  const all = [];
  for (;;) {
    const some = await new Promise((resolve, reject) => reader.readEntries(resolve, reject));
    if (some.length === 0) return all;
    all.push(...some);
  }
}

async function send(files, page) {
  if (files.length === 0) return;
  const key = await page.invokeMethodAsync('Chosen', files.length);
  if (!key) return;
  cancelled = false;
  const total = Math.max(1, files.reduce((sum, file) => sum + file.size, 0));
  let done = 0, last = 0;
  const say = (index, loaded) => {
    const now = performance.now();
    if (now - last < 150) return;
    last = now;
    page.invokeMethodAsync('Sent', (done + loaded) / total, `Taking in ${files[index].name} (${index + 1} of ${files.length})`);
  };
  for (let i = 0; i < files.length && !cancelled; i++) {
    const refused = await sendOne(key, files[i], loaded => say(i, loaded));
    if (refused !== null && !cancelled) await page.invokeMethodAsync('Refused', files[i].name, refused);
    done += files[i].size;
  }
  sending = null;
  if (!cancelled) await page.invokeMethodAsync('ArrivedAsync');
}

// Null: it is there. Otherwise what is wrong, or false where there was no answer.
function sendOne(key, file, progress) {
  return new Promise(resolve => {
    const request = sending = new XMLHttpRequest();
    request.open('PUT', `/arrivals/${key}?name=${encodeURIComponent(file.name)}`);
    request.setRequestHeader('Stillwatch-Arrival', '1');
    request.setRequestHeader('Content-Type', 'application/octet-stream');
    request.upload.onprogress = event => progress(event.loaded);
    request.onload = () => resolve(request.status === 204 ? null : answerOf(request));
    request.onerror = request.onabort = () => resolve(false);
    request.send(file);
  });
}

function answerOf(request) {
  try { return JSON.parse(request.responseText); } catch { return false; }
}

// Asked in the browser's own words and way, so that it is read and can be answered by the keyboard.
export const ask = question => confirm(question);
