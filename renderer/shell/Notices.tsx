import { type Problem, problemLine } from '../../core/outcome.ts';
import { Button } from '../parts/Button.tsx';
import { Icon } from '../parts/Icon.tsx';
import styles from './Notices.module.css';

/** What could not be done. It stays until it was read and put away. */
export function Notices({
  notices,
  onDismiss,
}: {
  readonly notices: readonly Problem[];
  readonly onDismiss: () => void;
}) {
  return (
    <div role="alert">
      {notices.length > 0 && (
        <div className={styles.notices}>
          <Icon name="doubt" />
          <ul>
            {notices.map((notice) => (
              <li key={noticeWords(notice)}>{noticeWords(notice)}</li>
            ))}
          </ul>
          <Button small onPress={onDismiss}>
            I have read this
          </Button>
        </div>
      )}
    </div>
  );
}

/** At its place, where that is a file of the person's; what concerns the program itself has no other place than here. */
function noticeWords(notice: Problem): string {
  return notice.place.file === 'workbench' ? notice.sentence : problemLine(notice);
}
