/** The page's token against forged requests; empty where the page has none. */
export function csrfToken() {
  return document.querySelector('meta[name="_csrf"]')?.content ?? '';
}
