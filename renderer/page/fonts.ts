/** Resolves when the notation font can be drawn; without it the first page would show boxes. */
export const notationFontReady = async (): Promise<void> => {
  await Promise.allSettled([
    document.fonts.load('30pt Bravura', '\ue050'),
    document.fonts.load('12pt Academico', 'A'),
    document.fonts.load('bold 12pt Academico', 'A'),
  ]);
};
