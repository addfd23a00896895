// SPDX-License-Identifier: Apache-2.0
package millrace.run.interlock;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Saturation vapour pressures of water from tables, turned into dew points. */
class DewPointTest {
  /**
   * Over water 12.271 hPa at 10 degC, 23.37 hPa at 20 degC, 42.43 hPa at 30 degC, 6.112 hPa at 0
   * degC (Smithsonian Meteorological Tables, from memory): the humidity is the quotient of two.
   */
  @ParameterizedTest
  @CsvSource({
    "20, 1, 20",
    "20, 0.52507, 10",
    "30, 0.55079, 20",
    "10, 0.49808, 0",
  })
  void agreesWithTablesOfVapourPressure(double degC, double humidity, double expected) {
    // the formula follows the tables within 0.05 K between 0 degC and 50 degC
    assertEquals(expected, DewPoint.degC(degC, humidity), 0.05);
  }
}
