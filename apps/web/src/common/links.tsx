import { Anchor, type AnchorProps, Button, type ButtonProps } from '@mantine/core';
import { createLink } from '@tanstack/react-router';
import type { ComponentPropsWithRef } from 'react';

/** Mantine's looks on the router's typed links. */
export const TextLink = createLink(
  (props: AnchorProps & Omit<ComponentPropsWithRef<'a'>, keyof AnchorProps>) => (
    <Anchor underline="always" {...props} />
  ),
);

export const ButtonLink = createLink(
  (props: ButtonProps & Omit<ComponentPropsWithRef<'a'>, keyof ButtonProps>) => (
    <Button component="a" {...props} />
  ),
);
