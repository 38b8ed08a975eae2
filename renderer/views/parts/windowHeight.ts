import { useEffect, useState } from 'preact/hooks';

/** How high the window is, in CSS pixels. */
export const useWindowHeight = (): number => {
  const [height, setHeight] = useState(window.innerHeight);
  useEffect(() => {
    const read = (): void => {
      setHeight(window.innerHeight);
    };
    window.addEventListener('resize', read);
    return () => {
      window.removeEventListener('resize', read);
    };
  }, []);
  return height;
};
