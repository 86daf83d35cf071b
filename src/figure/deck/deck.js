(() => {
  const slides = [...document.querySelectorAll('section')];
  const calm = matchMedia('(prefers-reduced-motion: reduce)').matches;
  const seconds = 6;
  let at = 0;
  let notes = null;
  document.body.classList.add('deck');
  const show = (index) => {
    at = Math.max(0, Math.min(slides.length - 1, index));
    slides.forEach((slide, i) => slide.classList.toggle('shown', i === at));
    history.replaceState(null, '', '#' + slides[at].id);
    showNote();
  };
  const showNote = () => {
    if (!notes || notes.closed) return;
    const articles = [...notes.document.querySelectorAll('article')];
    articles.forEach((article, i) => article.classList.toggle('now', i === at));
    notes.scrollTo(0, 0);
  };
  const openNotes = () => {
    if (notes && !notes.closed) return notes.focus();
    notes = open('', '', 'popup,width=960,height=640');
    if (!notes) return alert('The browser keeps the notes from opening. Allow this page to open windows, then press N again.');
    const { document: page } = notes;
    const since = Date.now();
    page.documentElement.lang = document.documentElement.lang;
    page.title = 'Notes: ' + document.title;
    page.body.replaceChildren(page.importNode(document.getElementById('notes').content, true));
    const clock = page.body.appendChild(page.createElement('time'));
    const tick = () => {
      const minutes = Math.floor((Date.now() - since) / 60000);
      clock.textContent = new Date().toTimeString().slice(0, 5) + ', open for ' + minutes + ' min';
    };
    tick();
    notes.setInterval(tick, 1000);
    notes.addEventListener('keydown', onKey);
    showNote();
  };
  addEventListener('pagehide', () => { if (notes) notes.close(); });
  const asked = () => Math.max(0, slides.findIndex((slide) => '#' + slide.id === location.hash));
  addEventListener('hashchange', () => show(asked()));
  const onKey = (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const onButton = event.target.tagName === 'BUTTON';
    const steps = { ArrowRight: 1, ArrowDown: 1, PageDown: 1, ArrowLeft: -1, ArrowUp: -1, PageUp: -1 };
    if (!onButton) steps[' '] = event.shiftKey ? -1 : 1;
    const ends = { Home: 0, End: slides.length - 1 };
    if (event.key in steps) show(at + steps[event.key]);
    else if (event.key in ends) show(ends[event.key]);
    else if (event.key === 'n' || event.key === 'N') openNotes();
    else return;
    event.preventDefault();
  };
  addEventListener('keydown', onKey);
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
