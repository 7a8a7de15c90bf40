/** The page of the preview, as its reader uses it. */
export class Preview {
  /** `frame` is where the page is, in whatever stands around it. */
  constructor(frame) {
    this.frame = frame;
  }

  async ready() {
    await this.frame.locator('[role=tablist]').waitFor();
  }

  tab(name) {
    return this.frame.getByRole('tab', { name });
  }

  chosenTab(name) {
    return this.frame.getByRole('tab', { name, selected: true });
  }

  async section(name) {
    await this.tab(name).click();
  }

  /** Something drawn, by its id. */
  part(id) {
    return this.frame.locator(`[data-ref="node ${id}"]`);
  }

  marked(id) {
    return this.frame.locator(`[data-ref="node ${id}"].chosen`);
  }

  picker(label) {
    return this.frame.getByRole('combobox', { name: label });
  }

  /** Chooses the first option that matches. */
  async pick(label, title) {
    await this.picker(label).locator('option', { hasText: title }).first().waitFor({ state: 'attached' });
    const options = await this.picker(label).locator('option').allTextContents();
    await this.picker(label).selectOption({ label: options.find((each) => title.test(each)) });
  }

  /** Colours of the page and of what is drawn, as the browser computes them. */
  async colours() {
    const of = (selector, property) =>
      this.frame
        .locator(selector)
        .first()
        .evaluate((element, name) => getComputedStyle(element)[name], property);
    return {
      ground: await of('body', 'backgroundColor'),
      ink: await of('.couplet .title', 'fill'),
      figure: await of('.couplet .figure', 'fill'),
    };
  }

  /** What is chosen, as it is listed. */
  picked(label) {
    return this.picker(label).locator('option:checked').textContent();
  }
}
