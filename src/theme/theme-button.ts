/**
 * The button that changes the colours, one choice after another. Without script the system's setting applies and no
 * button is shown.
 */
import { type Theme, themeKey, themes, themeWords } from './theme.ts';

const button = document.querySelector<HTMLButtonElement>('[data-theme-tap]');
const root = document.documentElement;
const current = (): Theme => themes.find((theme) => theme === root.dataset.theme) ?? 'auto';
const draw = () => {
  if (button) button.textContent = `Colours: ${themeWords[current()]}`;
};

function take(theme: Theme) {
  if (theme === 'auto') delete root.dataset.theme;
  else root.dataset.theme = theme;
  draw();
}

button?.addEventListener('click', () => {
  const next = themes[(themes.indexOf(current()) + 1) % themes.length] ?? 'auto';
  take(next);
  try {
    if (next === 'auto') localStorage.removeItem(themeKey);
    else localStorage.setItem(themeKey, next);
  } catch {
    // private windows can refuse storage; the choice then lasts as long as the page
  }
});
addEventListener('storage', ({ key, newValue }) => {
  if (key === themeKey) take(themes.find((theme) => theme === newValue) ?? 'auto');
});
if (button) button.hidden = false;
draw();
