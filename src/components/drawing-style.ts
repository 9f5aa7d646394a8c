/**
 * The styles of drawings, for the pages that have one: a page of words does not carry them. Astro puts the styles of every
 * component that a kind of page may use into each page of that kind, so these are written as text, and `Drawing.astro` prints them
 * once. Their hash is in `astro.config.mjs`, since the site's policy lets in no other.
 */
const written = `
.drawing {
  display: grid;
  grid-template-columns: repeat(auto-fit, minmax(min(100%, 18rem), 1fr));
  grid-template-rows: repeat(2, auto) 1fr;
  column-gap: 1.5rem;
  align-items: start;
  margin: 1.25rem 0;
  font-size: var(--text-note);
}
.drawing svg {
  grid-area: 1 / 1 / 4;
  width: 100%;
  max-width: 24rem;
  height: auto;
  margin-bottom: 0.6rem;
  font: 14px system-ui, sans-serif;
  stroke: currentColor;
  stroke-width: 2.5;
  stroke-linecap: round;
  stroke-linejoin: round;
  fill: none;
  color: var(--ink);
}
.drawing text {
  fill: var(--ink);
  stroke: none;
}
.drawing .soft {
  fill: var(--soft);
}
.drawing .head {
  font-weight: 700;
}
.drawing .named {
  fill: var(--accent);
  font-weight: 700;
}
.drawing .warned {
  fill: var(--alarm);
  color: var(--alarm);
  font-weight: 700;
}
.drawing .thin {
  stroke: var(--edge);
  stroke-width: 1.25;
}
.drawing .fine {
  stroke-width: 1.25;
}
.drawing .dashed {
  stroke-dasharray: 5 4;
}
.drawing .accented {
  stroke: var(--accent);
}
.drawing .alarmed {
  stroke: var(--alarm);
}
.drawing .sheet {
  fill: var(--card);
}
.drawing .body {
  fill: var(--wash);
}
.drawing .solid {
  fill: currentColor;
  stroke: none;
}
.drawing .full {
  fill: var(--accent);
  stroke: none;
}
.drawing .quiet {
  fill: var(--edge);
  stroke: none;
}
.drawing .under {
  fill: var(--wash);
  stroke: none;
}
.drawing .bore {
  stroke: var(--card);
}
.drawing .flesh {
  stroke: var(--wash);
}
.drawing .hair {
  fill: var(--edge);
}
.drawing :is(p, ul, ol) {
  margin: 0.4rem 0;
}
.drawing :is(ul, ol) {
  padding-left: 1.3rem;
}

/* A reader's own colours: bodies and sheets are of the ground, lines of the letters. */
@media (forced-colors: active) {
  .drawing svg {
    --card: Canvas;
    --wash: Canvas;
    --edge: CanvasText;
    --alarm: CanvasText;
  }
  .drawing rect.under {
    stroke: CanvasText;
    stroke-width: 1;
    stroke-dasharray: 1 4;
  }
}

/* On paper the text flows round the picture, and what is told for the ear is left out. */
@media print {
  .screen:has(> .drawing),
  .drawing > details {
    display: none;
  }
  .columns .drawing {
    display: flow-root;
    break-inside: avoid;
    margin: 0.4rem 0;
  }
  .columns .drawing :is(ul, ol) {
    margin: 0;
    padding: 0;
    list-style-position: inside;
  }
  .columns .drawing svg {
    float: left;
    width: 17rem;
    margin-right: 0.8rem;
  }
  .columns .drawing .question {
    display: flow-root;
  }
  .columns .drawing .parts details::details-content {
    content-visibility: visible;
    block-size: auto;
  }
}

/* The drawing that moves: only when asked, and never on paper or where motion is not wanted. */
.moves {
  display: flex;
  align-items: center;
  gap: 0.5rem;
  min-height: var(--touch);
}
.rises,
.lifts,
.sinks {
  transform-box: fill-box;
  transform-origin: bottom;
}
.drawing:has(:checked) .still {
  visibility: hidden;
}
.drawing:has(:checked) :is(.rises, .lifts, .sinks) {
  animation: rises 1.8s ease-in-out infinite alternate;
  vector-effect: non-scaling-stroke;
}
.drawing:has(:checked) .sinks {
  animation-name: sinks;
}
.drawing:has(:checked) .lifts {
  animation-name: lifts;
}
@keyframes lifts {
  to {
    transform: scaleY(1.3);
  }
}
@keyframes rises {
  to {
    transform: scaleY(1.75);
  }
}
@keyframes sinks {
  to {
    transform: scaleY(0.3);
  }
}
@media print, (prefers-reduced-motion: reduce) {
  .moves {
    display: none;
  }
  .drawing:has(:checked) :is(.rises, .lifts, .sinks) {
    animation: none;
  }
  .drawing:has(:checked) .still {
    visibility: visible;
  }
}
`;

/** Without what only a reader of this file needs. */
export const drawingStyle: string = written
  .replace(/\/\*.*?\*\//gs, '')
  .replace(/\s+/g, ' ')
  .replace(/ ?([{};,>]) ?/g, '$1')
  .replace(/: /g, ':')
  .replaceAll(';}', '}')
  .trim();
