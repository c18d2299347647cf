// When the program does not answer: said in our words, and once it is there again without knowing this page, the page loads anew.
const lost = document.getElementById('components-reconnect-modal');
lost.addEventListener('components-reconnect-state-changed', event => {
  if (event.detail.state === 'rejected') location.reload();
  else if (event.detail.state === 'failed') setInterval(loadIfThere, 5000); // for as long as the page is open: a night may lie between
});
document.getElementById('lost-again').addEventListener('click', async () => {
  if (!await loadIfThere()) document.getElementById('lost-still').textContent = 'It does not answer yet. Whoever looks after this machine can start it again.';
});

// A page that is loaded from a program that is not there would be gone, with what can still be read on it.
async function loadIfThere() {
  const there = await fetch('theme.js', { cache: 'no-store' }).then(answer => answer.ok, () => false);
  if (there) location.reload();
  return there;
}
