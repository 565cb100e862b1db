/** Runs in a page of Jupyter Notebook. */

export const kernelIsThere = () => window.Jupyter?.notebook?.kernel?.is_connected?.() === true;

export const runAll = () => window.Jupyter.notebook.execute_all_cells();

/** Whether no more cells than these are still without their number. */
export function notYetRun(most) {
  const cells = window.Jupyter.notebook.get_cells().filter((cell) => cell.cell_type === 'code');
  const open = cells.filter((cell) => !/\d/.test(cell.element.find('.input_prompt').text()));
  return cells.length > 0 && open.length <= most;
}

/** Places for figures, figures that are drawn, and what cells say on going wrong. */
export function shownBy() {
  const places = [...document.querySelectorAll('.js-plotly-plot')];
  const said = [...document.querySelectorAll('.output_error, .output_stderr')];
  return {
    places: places.length,
    figures: places.filter((place) => place.querySelector('.main-svg .trace') !== null).length,
    errors: said.map((one) => one.textContent),
  };
}

/** What stands below the cell of the answer. */
export function answerTo() {
  const cells = window.Jupyter.notebook.get_cells();
  const cell = cells.find((one) => /^answer\('/.test(one.get_text()));
  return (cell?.element.find('.output_area').last().text() ?? '').trim();
}
