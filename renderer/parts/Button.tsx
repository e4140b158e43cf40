import {
  Button as AriaButton,
  type ButtonProps as AriaButtonProps,
  Tooltip,
  TooltipTrigger,
} from 'react-aria-components';
import styles from './Button.module.css';
import { Icon, type IconName } from './Icon.tsx';

export interface ButtonProps extends Omit<AriaButtonProps, 'className' | 'style'> {
  /** `main`: the one thing to do here; `quiet`: without a border, where buttons stand close together. */
  readonly kind?: 'main' | 'plain' | 'quiet';
  readonly small?: boolean;
}

export function Button({ kind = 'plain', small = false, ...rest }: ButtonProps) {
  return <AriaButton {...rest} className={[styles.button, styles[kind], small ? styles.small : ''].join(' ')} />;
}

/** A button that is a picture: its label is read out, and shown when the pointer rests or the focus comes. */
export function IconButton({
  icon,
  label,
  keyShown,
  ...rest
}: Omit<ButtonProps, 'children' | 'kind'> & {
  readonly icon: IconName;
  readonly label: string;
  readonly keyShown?: string | null;
}) {
  return (
    <TooltipTrigger delay={400}>
      <AriaButton {...rest} aria-label={label} className={[styles.button, styles.quiet, styles.icon].join(' ')}>
        <Icon name={icon} />
      </AriaButton>
      <Tooltip className={styles.tip ?? ''} offset={6}>
        {label}
        {keyShown != null && <kbd>{keyShown}</kbd>}
      </Tooltip>
    </TooltipTrigger>
  );
}
