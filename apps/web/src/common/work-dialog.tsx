import { Button, Group, Modal, type ModalProps, Stack, Text } from '@mantine/core';
import { type ReactNode, useLayoutEffect, useRef, useState } from 'react';

/** What whoever works in a dialog has to do with the dialog itself. */
export interface AtWork {
  /** Closes it; when something would be lost, only after he has said so. */
  leave: () => void;
  /** Whether something would be lost if it closed now. */
  noteChanged: (isChanged: boolean) => void;
}

/** A dialog somebody works in: neither Escape nor a click beside it throws away what he has done. */
export function WorkDialog({
  onClose,
  children,
  ...modal
}: Pick<ModalProps, 'opened' | 'title' | 'size' | 'onClose'> & {
  children: (atWork: AtWork) => ReactNode;
}) {
  const isChanged = useRef(false);
  const [isAsking, setAsking] = useState(false);
  // Within a stack a dialog that closes may count as covered before it is gone, and then gives nothing back by itself.
  const opener = useRef<Element | null>(null);
  const { opened } = modal;
  useLayoutEffect(() => {
    if (opened) opener.current = document.activeElement;
  }, [opened]);
  const giveBackFocus = (): void => {
    if (document.activeElement === document.body && opener.current instanceof HTMLElement)
      opener.current.focus({ preventScroll: true });
  };
  const noteChanged = (now: boolean): void => {
    isChanged.current = now;
  };
  const leave = (): void => {
    if (isChanged.current) setAsking(true);
    else onClose();
  };
  return (
    <Modal.Stack>
      <Modal
        {...modal}
        stackId="work"
        onClose={leave}
        returnFocus={false}
        onExitTransitionEnd={giveBackFocus}
      >
        {children({ leave, noteChanged })}
      </Modal>
      <Modal
        stackId="asking"
        opened={isAsking}
        onClose={() => setAsking(false)}
        title="Throw away what you changed?"
        centered
      >
        <Stack gap="sm">
          <Text size="sm">Nothing of it has been saved.</Text>
          <Group justify="flex-end" gap="xs">
            <Button variant="default" onClick={() => setAsking(false)} data-autofocus>
              Go on with it
            </Button>
            <Button
              color="red"
              onClick={() => {
                setAsking(false);
                onClose();
              }}
            >
              Throw it away
            </Button>
          </Group>
        </Stack>
      </Modal>
    </Modal.Stack>
  );
}
