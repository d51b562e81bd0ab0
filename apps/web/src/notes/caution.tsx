import classes from './notes.module.css';

/** Stands wherever work on the field is written down; who decides is not us. */
export const Caution = () => (
  <p className={classes.caution}>
    On the field, keep to your association’s rules on contact and heat. A player who shows signs of
    a head injury stops at once, and comes back only when a licensed health-care professional has
    cleared him.
  </p>
);
