/** A sortable, unique name: time, then chance, so that two machines never make the same one. */
export const newId = (): string => {
  const chance = [...crypto.getRandomValues(new Uint8Array(6))]
    .map(b => b.toString(16).padStart(2, '0'))
    .join('');
  return `${Date.now().toString(36).padStart(9, '0')}-${chance}`;
};
