import { createRoot } from 'react-dom/client';

/** The least page that React can make: what the time of the workbench's own first page is held against. */
function EmptyPage() {
  return <main>Empty</main>;
}

const root = document.getElementById('root');
if (root !== null) createRoot(root).render(<EmptyPage />);
