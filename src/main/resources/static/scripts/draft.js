/** A referral's form that is on its way is not kept as a draft as well. */
let onItsWay = false;

document.addEventListener('submit', (event) => {
  onItsWay = onItsWay || event.target.id === 'referral';
});
window.addEventListener('pageshow', () => {
  onItsWay = false;
});
document.addEventListener('htmx:beforeRequest', (event) => {
  if (onItsWay && event.target.id === 'draft') {
    event.preventDefault();
  }
});
