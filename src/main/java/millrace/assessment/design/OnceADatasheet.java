// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.design;

import java.util.function.Function;
import millrace.datasheet.Datasheet;
import org.jspecify.annotations.Nullable;

/**
 * What is computed of a datasheet alone, kept for the datasheet that was asked for last: runs that
 * are assessed one after another mostly share theirs. Thread-safe.
 *
 * @param <T> what is computed; immutable
 */
final class OnceADatasheet<T> {
  private final Function<Datasheet, T> of;
  private volatile @Nullable Kept<T> kept;

  private record Kept<T>(Datasheet sheet, T value) {}

  OnceADatasheet(Function<Datasheet, T> of) {
    this.of = of;
  }

  /** Computes it, or knows it. The very same object counts, since comparing contents takes long. */
  @SuppressWarnings("ReferenceEquality")
  T of(Datasheet sheet) {
    Kept<T> now = kept;
    if (now == null || now.sheet != sheet) {
      now = new Kept<>(sheet, of.apply(sheet));
      kept = now;
    }
    return now.value;
  }
}
