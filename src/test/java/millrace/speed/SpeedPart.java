// SPDX-License-Identifier: Apache-2.0
package millrace.speed;

import java.io.IOException;

/** A part of the table: the rows of one kind of work. */
interface SpeedPart {
  /** Measures, and adds its rows. */
  void into(SpeedTable table) throws IOException, InterruptedException;
}
