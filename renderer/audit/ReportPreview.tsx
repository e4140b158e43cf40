import { Button } from '../parts/Button.tsx';
import { Icon } from '../parts/Icon.tsx';
import { Modal } from '../parts/Modal.tsx';
import styles from './Report.module.css';

/**
 * The report as it will be saved. It stands in a frame without any right: no script runs there, it is of no origin, and the page's own policy holds in it as well,
 * which knows the report's one style by its hash.
 */
export function ReportPreview({
  page,
  onClose,
  onSave,
  onPrint,
}: {
  /** `null`: closed. */
  readonly page: string | null;
  readonly onClose: () => void;
  readonly onSave: () => void;
  readonly onPrint: () => void;
}) {
  return (
    <Modal
      title="Report preview"
      isOpen={page !== null}
      onClose={onClose}
      width="wide"
      actions={
        <>
          <Button onPress={onPrint}>Print or save as PDF …</Button>
          <Button kind="main" onPress={onSave}>
            <Icon name="save" />
            Save as HTML
          </Button>
        </>
      }
    >
      {page !== null && <iframe className={styles.preview} title="The report" sandbox="" srcDoc={page} />}
    </Modal>
  );
}
