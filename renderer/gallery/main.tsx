import '../theme.css';
import { createRoot } from 'react-dom/client';
import { followScheme } from '../settings/scheme.ts';
import { setUpDesk } from './data/desk.ts';
import { Gallery } from './Gallery.tsx';

const root = document.getElementById('root');
followScheme('system');
if (root !== null) {
  const desk = await setUpDesk();
  createRoot(root).render(<Gallery desk={desk} />);
}
