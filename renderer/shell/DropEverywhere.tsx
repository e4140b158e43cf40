import { useEffect, useRef, useState } from 'react';
import { Icon } from '../parts/Icon.tsx';
import styles from './DropEverywhere.module.css';

/** Files and folders may be dropped anywhere on the page; while they hover, it says what will become of them. */
export function DropEverywhere({ onDrop }: { readonly onDrop: (data: DataTransfer) => void }) {
  const [hovering, setHovering] = useState(false);
  // Enter and leave come for every element passed; only the difference tells whether the pointer is still over the page.
  const depth = useRef(0);

  useEffect(() => {
    const over = (by: number, event: DragEvent): void => {
      if (!bearsFiles(event)) return;
      depth.current = Math.max(0, depth.current + by);
      setHovering(depth.current > 0);
    };
    const enter = (event: DragEvent): void => over(1, event);
    const leave = (event: DragEvent): void => over(-1, event);
    const move = (event: DragEvent): void => {
      if (bearsFiles(event)) event.preventDefault();
      else if (!isField(event.target)) refuse(event);
    };
    const drop = (event: DragEvent): void => {
      if (!bearsFiles(event)) {
        if (!isField(event.target)) event.preventDefault();
        return;
      }
      const alreadyTaken = event.defaultPrevented;
      event.preventDefault();
      depth.current = 0;
      setHovering(false);
      if (!alreadyTaken && event.dataTransfer !== null) onDrop(event.dataTransfer);
    };
    window.addEventListener('dragenter', enter);
    window.addEventListener('dragleave', leave);
    window.addEventListener('dragover', move);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragenter', enter);
      window.removeEventListener('dragleave', leave);
      window.removeEventListener('dragover', move);
      window.removeEventListener('drop', drop);
    };
  }, [onDrop]);

  if (!hovering) return null;
  return (
    <div className={styles.veil}>
      <p>
        <Icon name="file" /> Let go to take these files in
      </p>
    </div>
  );
}

function bearsFiles(event: DragEvent): boolean {
  return event.dataTransfer?.types.includes('Files') ?? false;
}

/** Words may be dropped where words are written. */
function isField(target: EventTarget | null): boolean {
  return target instanceof Element && target.closest('input, textarea') !== null;
}

/** A link let go over the page would be followed, and the work left; nothing comes of it. */
function refuse(event: DragEvent): void {
  event.preventDefault();
  if (event.dataTransfer !== null) event.dataTransfer.dropEffect = 'none';
}
