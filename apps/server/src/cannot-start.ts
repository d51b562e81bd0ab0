/** The app cannot run, for a reason its operator can act on. The message is one clear sentence for him. */
export class CannotStart extends Error {
  override name = 'CannotStart';
}
