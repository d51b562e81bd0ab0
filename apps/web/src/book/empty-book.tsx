import { Button } from '@mantine/core';
import { NothingHere } from '../common/nothing-here.tsx';

/** Why the list is empty, and the way out of it. */
export function EmptyBook(props: {
  kind: 'noPlays' | 'noneSigned' | 'noneArchived' | 'noneFound';
  /** Null for those who may not add plays. */
  onNew: (() => void) | null;
  onAll: () => void;
}) {
  if (props.kind === 'noneFound') {
    return (
      <NothingHere
        title="No play fits"
        action={
          <Button variant="default" onClick={props.onAll}>
            Show all plays
          </Button>
        }
      >
        Nothing in this list holds every word you typed.
      </NothingHere>
    );
  }
  if (props.kind === 'noneArchived') {
    return (
      <NothingHere title="Nothing is archived">
        Plays that are taken out of the book are kept here.
      </NothingHere>
    );
  }
  if (props.kind === 'noneSigned') {
    return (
      <NothingHere title="No play is signed off yet">
        A play appears here as soon as your head coach has signed it off.
      </NothingHere>
    );
  }
  return (
    <NothingHere
      title="The book is empty"
      action={props.onNew !== null && <Button onClick={props.onNew}>Draw the first play</Button>}
    >
      {props.onNew === null
        ? 'A coordinator or the head coach draws the first play.'
        : 'Pick a formation; the play board opens with eleven players on it, and anyone on the staff can draw along.'}
    </NothingHere>
  );
}
