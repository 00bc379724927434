import { mostPhotoBytes } from '@/lib/intake/line-photo';

const longestSide = 1280;
const qualities = [0.75, 0.5, 0.3] as const;

/** The picture as a JPEG small enough to keep and send; null where the browser cannot read it. */
export async function shrinkPhoto(file: Blob): Promise<Blob | null> {
  const picture = await createImageBitmap(file).catch(() => null);
  if (!picture) return null;
  const scale = Math.min(1, longestSide / Math.max(picture.width, picture.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  canvas.getContext('2d')?.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  for (const quality of qualities) {
    const made = await new Promise<Blob | null>((resolve) =>
      canvas.toBlob(resolve, 'image/jpeg', quality),
    );
    if (made && made.size <= mostPhotoBytes) return made;
  }
  return null;
}
