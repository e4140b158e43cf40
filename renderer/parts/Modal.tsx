import type { ReactNode } from 'react';
import { Modal as AriaModal, Dialog, Heading, ModalOverlay } from 'react-aria-components';
import { IconButton } from './Button.tsx';
import styles from './Modal.module.css';

/** A dialog that wants an answer: it holds the focus, Escape or the cross closes it, and the focus goes back to where it came from. */
export function Modal({
  title,
  isOpen,
  onClose,
  children,
  actions = null,
  width = 'medium',
  role = 'dialog',
  isText = false,
}: {
  readonly title: string;
  readonly isOpen: boolean;
  readonly onClose: () => void;
  readonly children: ReactNode;
  /** The row of buttons below; the one to press comes last. */
  readonly actions?: ReactNode;
  readonly width?: 'small' | 'medium' | 'wide';
  /** `alertdialog` where work would be lost. */
  readonly role?: 'dialog' | 'alertdialog';
  /** There is nothing in it but words: they are scrolled by keys that reach them. */
  readonly isText?: boolean;
}) {
  return (
    <ModalOverlay
      className={styles.veil ?? ''}
      isOpen={isOpen}
      onOpenChange={(open) => !open && onClose()}
      isDismissable={role === 'dialog'}
      data-modal
    >
      <AriaModal className={[styles.modal, styles[width]].join(' ')}>
        <Dialog role={role} className={styles.dialog ?? ''}>
          <header className={styles.head}>
            <Heading slot="title" level={2}>
              {title}
            </Heading>
            <IconButton icon="close" label="Close" onPress={onClose} />
          </header>
          <div className={styles.body} {...(isText ? { tabIndex: 0 } : {})}>
            {children}
          </div>
          {actions !== null && <footer className={styles.actions}>{actions}</footer>}
        </Dialog>
      </AriaModal>
    </ModalOverlay>
  );
}
