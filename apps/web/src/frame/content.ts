/** The main part of every screen: where the skip link leads and where a new screen is read from. */
export const contentId = 'content';

/** Screen readers and keyboards go on from the new screen, as they would after a page load. */
export const focusContent = (): void =>
  document.getElementById(contentId)?.focus({ preventScroll: true });
