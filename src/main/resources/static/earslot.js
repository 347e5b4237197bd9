// Adds the token against forged requests to every htmx exchange, and small comforts where scripts run.
document.addEventListener('htmx:configRequest', function (event) {
  var token = document.querySelector('meta[name="_csrf"]');
  if (token) {
    event.detail.headers['X-CSRF-TOKEN'] = token.content;
  }
});

document.addEventListener('click', function (event) {
  var button = event.target.closest('[data-print]');
  if (button) {
    window.print();
  }
});
