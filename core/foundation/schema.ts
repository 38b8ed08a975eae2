// The one way to zod: which module is evaluated first must never decide how its shapes are checked.
import { z } from 'zod';

// The pages forbid building code from strings (Content-Security-Policy), which zod would try with its first shape.
z.config({ jitless: true });

export { z };
