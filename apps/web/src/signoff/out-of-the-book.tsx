import { ButtonLink } from '../common/links.tsx';
import { NothingHere } from '../common/nothing-here.tsx';
import { Page } from '../common/page.tsx';

/** What a player finds at the old address of a play that was archived. */
export function OutOfTheBook({ name, staffId }: { name: string; staffId: string }) {
  return (
    <Page title={name}>
      <NothingHere
        title="No longer in the book"
        action={
          <ButtonLink to="/staffs/$staffId" params={{ staffId }}>
            Go to your book
          </ButtonLink>
        }
      >
        Your coaches took this play out. It is not one to learn now.
      </NothingHere>
    </Page>
  );
}
