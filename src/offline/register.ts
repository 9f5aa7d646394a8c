/** Installs the offline worker in the background once the page is at rest. */
const base = document.body.dataset.base ?? '/';

if ('serviceWorker' in navigator && import.meta.env.PROD) {
  const install = () => void navigator.serviceWorker.register(`${base}sw.js`, { scope: base }).catch(() => undefined);
  if (document.readyState === 'complete') install();
  else addEventListener('load', install, { once: true });
}
