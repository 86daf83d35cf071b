(() => {
  const slides = [...document.querySelectorAll('section')];
  const calm = matchMedia('(prefers-reduced-motion: reduce)').matches;
  const seconds = 6;
  let at = 0;
  document.body.classList.add('deck');
  const show = (index) => {
    at = Math.max(0, Math.min(slides.length - 1, index));
    slides.forEach((slide, i) => slide.classList.toggle('shown', i === at));
    history.replaceState(null, '', '#' + slides[at].id);
  };
  const asked = () => Math.max(0, slides.findIndex((slide) => '#' + slide.id === location.hash));
  addEventListener('hashchange', () => show(asked()));
  addEventListener('keydown', (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const onButton = event.target.tagName === 'BUTTON';
    const steps = { ArrowRight: 1, ArrowDown: 1, PageDown: 1, ArrowLeft: -1, ArrowUp: -1, PageUp: -1 };
    if (!onButton) steps[' '] = event.shiftKey ? -1 : 1;
    const ends = { Home: 0, End: slides.length - 1 };
    if (event.key in steps) show(at + steps[event.key]);
    else if (event.key in ends) show(ends[event.key]);
    else return;
    event.preventDefault();
  });
  let touched = null;
  addEventListener('touchstart', (event) => { touched = event.changedTouches[0].clientX; }, { passive: true });
  addEventListener('touchend', (event) => {
    const moved = event.changedTouches[0].clientX - touched;
    if (Math.abs(moved) > 40) show(at + (moved < 0 ? 1 : -1));
  }, { passive: true });
  for (const swing of document.querySelectorAll('.swing')) {
    const frames = [...swing.querySelectorAll(':scope > div')];
    const button = swing.querySelector('button');
    let playing = !calm, elapsed = 0, before = null, shown = 0;
    const name = () => { button.textContent = playing ? 'pause' : 'play'; };
    button.addEventListener('click', () => { playing = !playing; name(); });
    name();
    const step = (now) => {
      const visible = swing.closest('section').classList.contains('shown');
      if (playing && visible && before !== null) elapsed += Math.min(now - before, 100);
      before = now;
      const next = Math.floor(elapsed / 1000 / seconds * frames.length) % frames.length;
      if (next !== shown) {
        frames[shown].hidden = true;
        frames[next].hidden = false;
        shown = next;
      }
      requestAnimationFrame(step);
    };
    requestAnimationFrame(step);
  }
  const words = [...document.querySelectorAll('.words')];
  const fit = () => words.forEach((text) => {
    for (let size = 1; size > 0.5; size -= 0.05) {
      text.style.setProperty('--fit', size);
      if (text.scrollHeight <= text.clientHeight) return;
    }
  });
  addEventListener('resize', fit);
  document.fonts.ready.then(fit);
  show(asked());
})();
