// When the program does not answer: said in our words, and once it is there again without knowing this page, the page loads anew.
const lost = document.getElementById('components-reconnect-modal');
lost.addEventListener('components-reconnect-state-changed', event => {
  if (event.detail.state === 'rejected') location.reload();
  else if (event.detail.state === 'failed') whenItIsThere();
});
document.getElementById('lost-again').addEventListener('click', () => location.reload());

// Asked for as long as the page is open: a night may lie between.
function whenItIsThere() {
  const again = setInterval(() => fetch('theme.js', { cache: 'no-store' }).then(answer => {
    if (!answer.ok) return;
    clearInterval(again);
    location.reload();
  }, () => {}), 5000);
}
