import { Button } from '../parts/Button.tsx';
import { Toggle } from '../parts/Choice.tsx';
import { Modal } from '../parts/Modal.tsx';
import styles from './SettingsDialog.module.css';
import type { Settings } from './settings.ts';

/** How figures are written and the page's colours: at once, and kept for the next time. */
export function SettingsDialog({
  settings,
  isOpen,
  onChange,
  onClose,
}: {
  readonly settings: Settings;
  readonly isOpen: boolean;
  readonly onChange: (settings: Settings) => void;
  readonly onClose: () => void;
}) {
  return (
    <Modal
      title="Settings"
      isOpen={isOpen}
      onClose={onClose}
      width="small"
      actions={
        <Button kind="main" onPress={onClose}>
          Done
        </Button>
      }
    >
      <div className={styles.settings}>
        <Toggle
          label="Colours"
          options={[
            { id: 'system', label: 'As the system' },
            { id: 'light', label: 'Light' },
            { id: 'dark', label: 'Dark' },
          ]}
          chosen={settings.theme}
          onChoose={(theme) => onChange({ ...settings, theme })}
        />
        <Toggle
          label="Lengths and velocities"
          options={[
            { id: 'metric', label: 'mm, m/s' },
            { id: 'inch', label: 'in, in/µs' },
          ]}
          chosen={settings.units}
          onChoose={(units) => onChange({ ...settings, units })}
        />
        <Toggle
          label="Decimal mark"
          options={[
            { id: '.', label: 'Point: 30.01' },
            { id: ',', label: 'Comma: 30,01' },
          ]}
          chosen={settings.decimalMark}
          onChoose={(decimalMark) => onChange({ ...settings, decimalMark })}
        />
        <p>These change how figures are shown and typed, never what is saved in a review.</p>
      </div>
    </Modal>
  );
}
