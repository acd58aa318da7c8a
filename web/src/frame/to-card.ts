/** The hand goes to the head of what was opened, so that the next Tab is its act. */
export function toCard(): void {
  requestAnimationFrame(() => {
    document.querySelector<HTMLElement>(".column [data-head]")?.focus({ preventScroll: true });
  });
}
