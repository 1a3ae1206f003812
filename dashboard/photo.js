// @ts-check
/* Dragging the marks on a photograph. The fields hold the numbers: the page works by writing them, and this follows. */
(() => {
  const svg = /** @type {SVGSVGElement | null} */ (/** @type {unknown} */ (document.getElementById('photo')));
  const form = document.getElementById('marks');
  if (!(svg instanceof SVGSVGElement) || !(form instanceof HTMLFormElement)) return;
  const whole = svg.getAttribute('viewBox') ?? '';
  const [, , width = 0, height = 0] = whole.split(' ').map(Number);

  /** @param {string} name */
  const field = (name) => /** @type {HTMLInputElement} */ (form.elements.namedItem(name));
  /** @param {string} name */
  const at = (name) => (field(name).value === '' ? Number.NaN : Number(field(name).value));
  /** @param {string} name @param {number} value */
  const put = (name, value) => {
    field(name).value = String(Math.round(value * 2) / 2);
  };

  function draw() {
    for (const eye of ['r', 'l']) {
      const [outer, inner, top, bottom] = ['outer_x', 'inner_x', 'top_y', 'bottom_y'].map((m) =>
        at(`${eye}_${m}`),
      );
      const [left, right] = [Math.min(outer, inner), Math.max(outer, inner)];
      const over = (right - left) / 8;
      for (const mark of ['outer_x', 'inner_x']) line(`${eye}_${mark}`, top - over, bottom + over);
      for (const mark of ['top_y', 'bottom_y']) line(`${eye}_${mark}`, left - over, right + over);
      line(`${eye}_ear_x`, 0.3 * height, 0.7 * height);
      const ring = svg?.querySelector(`[data-ring=${eye}]`);
      ring?.setAttribute('transform', `translate(${at(`${eye}_pupil_x`)} ${at(`${eye}_pupil_y`)})`);
    }
    const [fileWidth = 0, fileHeight = 0] = (svg?.dataset.file ?? '').split(' ').map(Number);
    const turned = Number(svg?.dataset.quarter) + (at('level_deg') || 0);
    svg
      ?.querySelector('image')
      ?.setAttribute(
        'transform',
        `translate(${width / 2} ${height / 2}) rotate(${turned}) translate(${-fileWidth / 2} ${-fileHeight / 2})`,
      );
  }

  /** @param {string} name @param {number} from @param {number} to */
  function line(name, from, to) {
    const mark = svg?.querySelector(`[data-line=${name}]`);
    const value = at(name);
    if (!mark || Number.isNaN(value)) {
      mark?.setAttribute('visibility', 'hidden');
      return;
    }
    mark.removeAttribute('visibility');
    const along = mark.getAttribute('data-way') === 'x';
    for (const one of mark.querySelectorAll('line')) {
      one.setAttribute(along ? 'x1' : 'y1', String(value));
      one.setAttribute(along ? 'x2' : 'y2', String(value));
      one.setAttribute(along ? 'y1' : 'x1', String(from));
      one.setAttribute(along ? 'y2' : 'x2', String(to));
    }
  }

  /** @param {PointerEvent} event */
  function spot(event) {
    const matrix = svg?.getScreenCTM()?.inverse();
    return new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix);
  }

  /** @type {Element | null} */
  let held = null;
  svg.addEventListener('pointerdown', (event) => {
    const mark = event.target instanceof Element ? event.target.closest('.mark') : null;
    if (!mark) return;
    held = mark;
    event.preventDefault();
    svg.setPointerCapture(event.pointerId);
    const name = mark.getAttribute('data-line') ?? `${mark.getAttribute('data-ring')}_pupil_x`;
    field(name).focus({ preventScroll: true });
  });
  svg.addEventListener('pointermove', (event) => {
    if (!held) return;
    const { x, y } = spot(event);
    const name = held.getAttribute('data-line');
    if (name) put(name, held.getAttribute('data-way') === 'x' ? x : y);
    else {
      put(`${held.getAttribute('data-ring')}_pupil_x`, x);
      put(`${held.getAttribute('data-ring')}_pupil_y`, y);
    }
    draw();
  });
  for (const end of ['pointerup', 'pointercancel'])
    svg.addEventListener(end, () => {
      held = null;
    });

  form.addEventListener('input', draw);
  form.addEventListener('keydown', (event) => {
    const up = event.key === 'ArrowUp' || event.key === 'ArrowRight';
    if (!up && event.key !== 'ArrowDown' && event.key !== 'ArrowLeft') return;
    const input = event.target;
    if (!(input instanceof HTMLInputElement) || !input.dataset.step) return;
    if (event.key === 'ArrowLeft' || event.key === 'ArrowRight') return;
    event.preventDefault();
    // Downwards in the picture is a greater number: the key moves the mark the way it points.
    const down = input.name.endsWith('_y') ? -1 : 1;
    const by = Number(input.dataset.step) * (event.shiftKey ? 10 : 1) * (up ? 1 : -1) * down;
    input.value = String(Math.round((Number(input.value) + by) * 10) / 10);
    draw();
  });
  form.addEventListener('focusin', (event) => {
    const name = event.target instanceof HTMLInputElement ? event.target.name : '';
    for (const mark of svg.querySelectorAll('.mark')) {
      const ring = mark.getAttribute('data-ring');
      mark.classList.toggle(
        'here',
        mark.getAttribute('data-line') === name || name.startsWith(`${ring}_pupil`),
      );
    }
  });

  for (const button of document.querySelectorAll('button[data-view]'))
    button.addEventListener('click', () => {
      const eye = button.getAttribute('data-view');
      if (!eye) {
        svg.setAttribute('viewBox', whole);
        return;
      }
      const xs = [at(`${eye}_outer_x`), at(`${eye}_inner_x`)];
      const wide = Math.abs(xs[0] - xs[1]) * 1.5;
      const high = (wide * height) / width;
      const middle = [(xs[0] + xs[1]) / 2, (at(`${eye}_top_y`) + at(`${eye}_bottom_y`)) / 2];
      svg.setAttribute('viewBox', `${middle[0] - wide / 2} ${middle[1] - high / 2} ${wide} ${high}`);
    });
})();
