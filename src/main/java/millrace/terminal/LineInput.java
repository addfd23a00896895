// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import java.util.Optional;

/** The lines that a person or a program types, one after another. */
public interface LineInput extends AutoCloseable {
  /** The next line; empty at the end. */
  Optional<String> next();

  @Override
  void close();
}
