import { expect } from 'vitest';
import { journey } from '../support/journey.ts';
import { lookAtEverything, openExample, textOf, untilComputed } from './open-page.ts';

journey('a formula follows a knob, and says in words when its units do not fit', async ({ page }) => {
  await openExample(page, 'Axle counter');
  await lookAtEverything(page);
  const rule = page.locator('tt-cell#rule tt-formula');
  await untilComputed(page);
  await expect.poll(() => textOf(rule)).toMatch(/= 517.ms coaches\.R1 100.kΩ coaches\.C1 4\.70.µF$/u);

  const knob = page.getByRole('slider', { name: 'R1 resistance' });
  await page.locator('tt-cell#board').getByLabel('R1 resistance', { exact: true }).focus();
  await knob.focus();
  for (let turn = 0; turn < 8; turn += 1) await knob.press('ArrowRight');
  await untilComputed(page);
  // 1.1 * 220 kΩ * 4.7 µF
  await expect.poll(() => textOf(rule)).toMatch(/= 1\.14.s/u);
  // The note below quotes it.
  await expect.poll(() => textOf(page.locator('tt-cell#rule_note'))).toMatch(/gives a tick of 1\.14.s/u);

  const text = rule.getByRole('textbox');
  await text.fill('coaches.R1 + coaches.C1');
  await text.press('Enter');
  await rule.getByText('adds ohms to farads').waitFor();
  // What was there before stays until there is something better.
  await expect.poll(() => textOf(page.locator('tt-cell#rule'))).toContain('from the values before');
  await text.fill('1.1 * coaches.R1 * coaches.C1 / 2');
  await text.press('Enter');
  await rule.getByText(/^569.ms$/u).waitFor();
});

journey('a question keeps its answer to itself until a number with its unit is entered', async ({ page }) => {
  await openExample(page, 'Platform lamp');
  await lookAtEverything(page);
  const quiz = page.locator('tt-cell#quiz');
  const field = quiz.getByLabel('Your number');
  await field.waitFor();
  await untilComputed(page);
  await expect.poll(() => textOf(quiz)).not.toContain('computed');
  // What follows would give the answer away.
  await expect.poll(() => page.locator('tt-cell#waiting_numbers').count()).toBe(0);

  // Enter may be faster than the next drawing.
  await field.evaluate((input: HTMLInputElement) => {
    input.value = '5 V';
    input.dispatchEvent(new InputEvent('input', { bubbles: true, composed: true }));
    input.form?.requestSubmit();
  });
  await expect
    .poll(() => textOf(quiz.getByRole('alert')))
    .toMatch(/^Your number must be a time; got "5 V", a voltage\. Write /);

  await field.fill('5.2 s');
  await quiz.getByRole('button', { name: 'compare' }).click();
  await quiz.getByText('near enough').waitFor();
  const said = () => textOf(quiz);
  await expect.poll(said).toMatch(/you 5\.20.s computed 5\.3\d.s/u);
  await expect.poll(said).toMatch(/too low ?: near enough \( ?asked for within 5 % ?\)/);
  await expect.poll(said).toContain('1 input pulse came');
  await page.locator('tt-cell#waiting_numbers').getByRole('row', { name: /^burn/ }).waitFor();

  await quiz.getByRole('button', { name: 'another number' }).click();
  await expect.poll(() => textOf(quiz)).not.toContain('computed');
  await field.fill('53 s');
  await field.press('Enter');
  await quiz.getByText('too far off').waitFor();
});

journey('what reads formulas is fetched only by a page that has some', async ({ page }) => {
  const fetched: string[] = [];
  page.context().on('request', (request) => fetched.push(request.url()));
  const parser = (): boolean => fetched.some((url) => url.includes('expression-parser'));
  await openExample(page, 'Touch bell');
  await untilComputed(page);
  expect(parser()).toBe(false);
  await page.goto(page.url().replace(/#.*$/, ''));
  await openExample(page, 'Platform lamp');
  await untilComputed(page);
  await expect.poll(parser).toBe(true);
});
