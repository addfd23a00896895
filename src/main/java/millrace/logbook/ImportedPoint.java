// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.List;
import millrace.evidence.Point;
import millrace.evidence.PointState;

/**
 * A whole point whose readings were taken elsewhere.
 *
 * @param point the point, closed; its id is not looked at
 * @param readings in the order of the file
 */
public record ImportedPoint(Point point, List<ImportedReading> readings) {
  /** Copies the readings. */
  public ImportedPoint {
    if (point.state() == PointState.OPEN) {
      throw new IllegalArgumentException("a point that is committed whole is not open");
    }
    readings = List.copyOf(readings);
  }
}
