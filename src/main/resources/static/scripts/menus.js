/** The menus in the head close by Escape, when the focus leaves them and when something else is pressed. */

function close(menu) {
  menu.open = false;
}

function others(place) {
  document.querySelectorAll('.menu[open]').forEach((menu) => {
    if (!menu.contains(place)) {
      close(menu);
    }
  });
}

document.addEventListener('click', (event) => others(event.target));
document.addEventListener('focusin', (event) => others(event.target));
document.addEventListener('keydown', (event) => {
  const menu = event.key === 'Escape' && document.querySelector('.menu[open]');
  if (menu) {
    close(menu);
    menu.querySelector('summary').focus();
  }
});
