// Light or dark: what the system asks for, until the person here says otherwise. Runs before the first drawing, so that nothing flashes.
const stillwatchTheme = {
  stored: () => localStorage.getItem('stillwatch-theme'),
  current: () => stillwatchTheme.stored() ?? (matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light'),
  apply: () => {
    document.documentElement.dataset.theme = stillwatchTheme.current();
    document.dispatchEvent(new CustomEvent('stillwatch-theme'));
  },
  next: () => {
    localStorage.setItem('stillwatch-theme', stillwatchTheme.current() === 'dark' ? 'light' : 'dark');
    stillwatchTheme.apply();
  },
};
stillwatchTheme.apply();
document.addEventListener('click', event => { if (event.target.closest('#theme')) stillwatchTheme.next(); });
