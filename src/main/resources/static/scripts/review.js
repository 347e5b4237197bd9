/** Draws the run charts of the review from the tables beside them, so that picture and numbers cannot differ. */

const DAY = 86400;
/** Pixels. */
const HEIGHT = 240;
const WIDEST = 960;
/** Nearer to each other than this, two numbers of days stand on two heights. */
const CLOSE = 18;

function ink(name) {
  return getComputedStyle(document.documentElement).getPropertyValue(name).trim();
}

function secondsOf(date) {
  return Date.parse(`${date}T00:00:00Z`) / 1000;
}

/** Of each week: its Monday in seconds, the figure, and the lower and the upper limit. */
function numbers(table) {
  const rows = Array.from(table.querySelectorAll('tbody tr'), (row) => row.children);
  return [
    rows.map((cells) => secondsOf(cells[0].textContent.trim())),
    ...[2, 3, 4].map((column) => rows.map((cells) => Number(cells[column].textContent)))
  ];
}

/** Days of change, each with the number that the table beside the charts gives it. */
function marks() {
  return Array.from(document.querySelectorAll('[data-milestones] tbody tr'), (row) => ({
    at: secondsOf(row.dataset.on),
    name: row.children[0].textContent.trim()
  }));
}

/** A line across the chart for each day of change. */
function drawMarks(plot) {
  const ratio = window.devicePixelRatio || 1;
  const pen = plot.ctx;
  const { min, max } = plot.scales.x;
  let last = -Infinity;
  pen.save();
  pen.strokeStyle = ink('--accent');
  pen.fillStyle = ink('--ink');
  pen.lineWidth = ratio;
  pen.font = `${12 * ratio}px sans-serif`;
  pen.textAlign = 'right';
  pen.textBaseline = 'top';
  marks().filter((mark) => mark.at >= min && mark.at <= max).forEach((mark, index) => {
    const x = Math.round(plot.valToPos(mark.at, 'x', true));
    pen.setLineDash([2 * ratio, 3 * ratio]);
    pen.beginPath();
    pen.moveTo(x, plot.bbox.top);
    pen.lineTo(x, plot.bbox.top + plot.bbox.height);
    pen.stroke();
    const low = x - last < CLOSE * ratio && index % 2 === 1;
    pen.fillText(mark.name, x - 3 * ratio, plot.bbox.top + (low ? 14 : 1) * ratio);
    last = x;
  });
  pen.restore();
}

function draw(place) {
  const table = document.querySelector(`[data-run-table="${place.dataset.runChart}"]`);
  if (!table || !window.uPlot) {
    return;
  }
  const line = ink('--line');
  const limit = { stroke: ink('--warn'), width: 1, dash: [6, 4], points: { show: false } };
  const axis = { stroke: ink('--ink'), grid: { stroke: line, width: 1 }, ticks: { stroke: line, width: 1 } };
  const size = () => ({ width: Math.min(place.clientWidth || 720, WIDEST), height: HEIGHT });
  const plot = new window.uPlot({
    ...size(),
    tzDate: (seconds) => window.uPlot.tzDate(new Date(seconds * 1000), 'UTC'),
    scales: {
      // The last week ends six days after its Monday: a change within it is still on the chart.
      x: { range: (chart, low, high) => [low, high + 6 * DAY] },
      y: { range: (chart, low, high) => [0, high * 1.05 || 1] }
    },
    axes: [axis, { ...axis }],
    hooks: { draw: [drawMarks] },
    legend: { show: false },
    series: [
      {},
      {
        stroke: ink('--ink'),
        width: 2,
        points: { show: true, size: 5, fill: ink('--ink') }
      },
      limit,
      limit
    ]
  }, numbers(table), place);
  // What is folded has no width until it is opened.
  place.closest('details')?.addEventListener('toggle', () => plot.setSize(size()));
  // A tablet is turned; print has sizes of its own.
  window.addEventListener('resize', () => {
    if (!window.matchMedia('print').matches) {
      plot.setSize(size());
    }
  });
}

document.querySelectorAll('[data-run-chart]').forEach(draw);
