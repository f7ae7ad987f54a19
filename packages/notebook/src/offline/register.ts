import { isOnePage } from '../storage/one-page.ts';

/**
 * Lets the browser keep the app, once the page stands. Where a browser keeps nothing, or the page is one file, the app
 * works all the same.
 */
export function keepApp(): void {
  if (import.meta.env.MODE !== 'production' || isOnePage() || !('serviceWorker' in navigator)) return;
  const keep = (): void => {
    void navigator.serviceWorker.register(new URL('service-worker.js', document.baseURI)).catch(() => undefined);
  };
  if (document.readyState === 'complete') keep();
  else window.addEventListener('load', keep, { once: true });
}
