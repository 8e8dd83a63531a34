import { rmSync } from "node:fs";

/** Temporary files and folders that are being written right now. */
const pending = new Set<string>();

/** Remembers a temporary path until it is renamed or removed. */
export function startPending(path: string): void {
  pending.add(path);
}

export function endPending(path: string): void {
  pending.delete(path);
}

/**
 * Removes every temporary file and folder that is being written, at once: for an interruption, when there is no
 * time left to wait. Never throws; what cannot be removed stays and is known by its name.
 */
export function removePendingWrites(): void {
  for (const path of pending) {
    try {
      rmSync(path, { recursive: true, force: true });
    } catch {
      // The program is ending; there is nobody left to tell.
    }
  }
  pending.clear();
}
