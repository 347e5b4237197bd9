// Draws the run charts of the review from the tables beside them, so that picture and numbers cannot differ.
(function () {
  function ink(name) {
    return getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  }

  function numbers(table) {
    var columns = [[], [], [], []];
    table.querySelectorAll('tbody tr').forEach(function (row) {
      var cells = row.children;
      columns[0].push(Date.parse(cells[0].textContent.trim() + 'T00:00:00Z') / 1000);
      columns[1].push(Number(cells[2].textContent));
      columns[2].push(Number(cells[3].textContent));
      columns[3].push(Number(cells[4].textContent));
    });
    return columns;
  }

  function heading(table, column) {
    return table.querySelectorAll('thead th')[column].textContent.trim();
  }

  // Days of change: a line across the chart with the number that the table beside the charts gives it.
  function marks() {
    var rows = document.querySelectorAll('[data-milestones] tbody tr');
    return Array.prototype.map.call(rows, function (row) {
      return { at: Date.parse(row.dataset.on + 'T00:00:00Z') / 1000, name: row.children[0].textContent.trim() };
    });
  }

  function drawMarks(plot) {
    var ratio = window.devicePixelRatio || 1;
    var pen = plot.ctx;
    var last = -Infinity;
    pen.save();
    pen.strokeStyle = ink('--accent');
    pen.fillStyle = ink('--ink');
    pen.lineWidth = ratio;
    pen.font = 12 * ratio + 'px sans-serif';
    pen.textAlign = 'right';
    pen.textBaseline = 'top';
    marks().filter(function (mark) {
      return mark.at >= plot.scales.x.min && mark.at <= plot.scales.x.max;
    }).forEach(function (mark, index) {
      var x = Math.round(plot.valToPos(mark.at, 'x', true));
      pen.setLineDash([2 * ratio, 3 * ratio]);
      pen.beginPath();
      pen.moveTo(x, plot.bbox.top);
      pen.lineTo(x, plot.bbox.top + plot.bbox.height);
      pen.stroke();
      // Numbers of days close together stand on two heights.
      var low = x - last < 18 * ratio && index % 2 === 1;
      pen.fillText(mark.name, x - 3 * ratio, plot.bbox.top + (low ? 14 : 1) * ratio);
      last = x;
    });
    pen.restore();
  }

  function draw(place) {
    var table = document.querySelector('[data-run-table="' + place.dataset.runChart + '"]');
    if (!table || !window.uPlot) {
      return;
    }
    var line = ink('--line');
    var limit = { stroke: ink('--warn'), width: 1, dash: [6, 4], points: { show: false } };
    var axis = { stroke: ink('--ink'), grid: { stroke: line, width: 1 }, ticks: { stroke: line, width: 1 } };
    var size = function () { return { width: Math.min(place.clientWidth || 720, 960), height: 240 }; };
    var options = Object.assign(size(), {
      tzDate: function (seconds) { return uPlot.tzDate(new Date(seconds * 1000), 'UTC'); },
      // The last week ends six days after its Monday: a change within it is still on the chart.
      scales: { x: { range: function (plot, low, high) { return [low, high + 6 * 86400]; } }, y: { range: function (plot, low, high) { return [0, high * 1.05 || 1]; } } },
      axes: [axis, Object.assign({}, axis)],
      hooks: { draw: [drawMarks] },
      series: [
        { label: heading(table, 0), value: '{YYYY}-{MM}-{DD}' },
        { label: heading(table, 2), stroke: ink('--ink'), width: 2, points: { show: true, size: 5, fill: ink('--ink') } },
        Object.assign({ label: heading(table, 3) }, limit),
        Object.assign({ label: heading(table, 4) }, limit)
      ]
    });
    var plot = new uPlot(options, numbers(table), place);
    // A tablet is turned; print has sizes of its own.
    window.addEventListener('resize', function () {
      if (!window.matchMedia('print').matches) {
        plot.setSize(size());
      }
    });
  }

  document.querySelectorAll('[data-run-chart]').forEach(draw);
})();
