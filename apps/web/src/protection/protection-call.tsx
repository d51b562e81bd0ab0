import { NativeSelect, SegmentedControl } from '@mantine/core';
import { type DropId, dropOf, usualDrops } from '@stemline/football/footwork/drop';
import { type Protection, protectionOf, protections } from '@stemline/football/protection';
import type { Protecting } from '@stemline/read-rules/protection/protect';
import { useState } from 'react';
import { useRights } from '../board/rights.ts';
import { wrongOf } from '../board/wrong.ts';
import { Choice } from '../common/choice.tsx';
import { useBoard, usePlay } from '../live/hooks.ts';
import classes from './protection.module.css';
import {
  calledWords,
  callWords,
  dropNumbers,
  feetWords,
  missingWords,
} from './protection-words.ts';

const numbers = ['Five', 'Six', 'Seven', 'Eight'];

const byCount = (men: number): readonly Protection[] =>
  protections.filter(({ helpers }) => helpers.length === men);

/** "Five men, half slide" reads as "Half slide" under the heading "Five men". */
const inGroup = ({ name }: Protection): string => {
  const [, ...rest] = name.split(', ');
  const words = rest.join(', ');
  return words === '' ? name : words.charAt(0).toUpperCase() + words.slice(1);
};

const protectionChoices = [
  { value: '', label: 'Not called' },
  ...numbers.flatMap((word, helpers) => {
    const items = byCount(helpers).map((one) => ({ value: one.id, label: inGroup(one) }));
    return items.length > 0 ? [{ group: `${word} men`, items }] : [];
  }),
];

const drops = (snap: 'underCentre' | 'shotgun') =>
  usualDrops.filter((one) => one.snap === snap).map(({ id, name }) => ({ value: id, label: name }));

const dropChoices = [
  { value: '', label: 'Not called: as suits his first man' },
  { group: 'From the shotgun', items: drops('shotgun') },
  { group: 'From under the center', items: drops('underCentre') },
];

/** The call of a play: who protects, which way the line goes, and how the passer drops. */
export function ProtectionCallFields({ protecting }: { protecting: Protecting | null }) {
  const board = useBoard();
  const play = usePlay();
  const rights = useRights();
  const [wrong, setWrong] = useState<string | null>(null);
  const protection = protectionOf(play.protection);
  const toward = play.protection?.toward ?? 'right';
  const drop = dropOf(play.drop);
  const taken = protecting?.answers.passer.drop;
  const feet = drop && feetWords(play, drop);
  const missing = protection && protecting && missingWords(play, protection, protecting.blocking);
  const called = calledWords(play);
  return (
    <section className={classes.call} aria-label="Call">
      {rights.all ? (
        <>
          <div className={classes.fields}>
            <NativeSelect
              label="Protection"
              size="xs"
              value={protection?.id ?? ''}
              data={protectionChoices}
              onChange={({ currentTarget: { value } }) =>
                setWrong(wrongOf(board.setProtection(value === '' ? null : { id: value, toward })))
              }
            />
            {protection && protection.slide !== 'none' && (
              <Choice label="Slides to">
                <SegmentedControl
                  size="xs"
                  aria-label="Slides to"
                  value={toward}
                  data={[
                    { value: 'left', label: 'left' },
                    { value: 'right', label: 'right' },
                  ]}
                  onChange={(side) =>
                    setWrong(
                      wrongOf(
                        board.setProtection({
                          id: protection.id,
                          toward: side === 'left' ? 'left' : 'right',
                        }),
                      ),
                    )
                  }
                />
              </Choice>
            )}
          </div>
          <p className={classes.says}>
            {protection
              ? callWords(protection, toward)
              : 'Without a call whoever stays in blocks, and the line is taken to be set the best way before each look.'}
          </p>
          {missing && <p className={classes.trouble}>{missing}</p>}
          <NativeSelect
            label="Drop of the passer"
            size="xs"
            value={drop?.id ?? ''}
            data={dropChoices}
            onChange={({ currentTarget: { value } }) =>
              setWrong(wrongOf(board.setDrop(value === '' ? null : (value as DropId))))
            }
          />
        </>
      ) : (
        <>
          <p className={classes.says}>
            {called.length > 0
              ? `${called.join('. ')}.`
              : 'Neither a protection nor a drop is called.'}
          </p>
          {protection && <p className={classes.says}>{callWords(protection, toward)}</p>}
          {missing && <p className={classes.trouble}>{missing}</p>}
        </>
      )}
      {drop ? (
        <p className={classes.says}>{dropNumbers(drop)}</p>
      ) : (
        taken && (
          <p className={classes.says}>
            Taken for now: {taken.name}. {dropNumbers(taken)}
          </p>
        )
      )}
      {feet && <p className={classes.trouble}>{feet}</p>}
      {wrong !== null && (
        <p role="alert" className={classes.trouble}>
          {wrong}
        </p>
      )}
    </section>
  );
}
