// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

import java.util.List;
import millrace.evidence.setting.MeterSettings;

/** A meter for current or voltage with ranges and an integration time. */
public interface Meter extends Sensor {
  /**
   * Its ranges, smallest first, as full scale in base units.
   *
   * @return not empty
   */
  List<MeterRange> ranges();

  /**
   * Sets range and integration.
   *
   * @param range one of {@link #ranges}
   * @param lineCycles integration time in cycles of the line, above 0
   * @throws millrace.fault.InstrumentException if the instrument refuses
   */
  void prepare(MeterRange range, double lineCycles);

  /**
   * Its settings as read back from the instrument.
   *
   * @return the settings; {@link MeterSettings#of} takes names and values as people write them
   * @throws millrace.fault.InstrumentException if the instrument does not answer
   */
  MeterSettings readBack();

  /**
   * The same, asked of the instrument whatever is known of it.
   *
   * @return the settings
   * @throws millrace.fault.InstrumentException if the instrument does not answer
   */
  default MeterSettings readBackAnew() {
    return readBack();
  }
}
