// SPDX-License-Identifier: Apache-2.0
package millrace.quantity;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.SplittableRandom;
import java.util.regex.Pattern;
import millrace.fault.FilePlace;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

class QuantityTextTest {

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "100 uA | CURRENT | 1e-4",
        "100 \u00b5A | CURRENT | 1e-4",
        "100 \u03bcA | CURRENT | 1e-4",
        "100uA | CURRENT | 1e-4",
        "1e-3 A | CURRENT | 1e-3",
        "+.5 mA | CURRENT | 5e-4",
        "4.7 kohm | RESISTANCE | 4700",
        "4.7 k\u03a9 | RESISTANCE | 4700",
        "4.7 k\u2126 | RESISTANCE | 4700",
        "10 Mohm | RESISTANCE | 1e7",
        "10 mohm | RESISTANCE | 0.01",
        "-10 degC | TEMPERATURE | -10",
        "\u221210 \u00b0C | TEMPERATURE | -10",
        "23 \u2103 | TEMPERATURE | 23",
        "0.5 K | TEMPERATURE_DIFFERENCE | 0.5",
        "2 K/min | TEMPERATURE_RATE | 0.03333333333333333",
        "0.1 % | RATIO | 1e-3",
        "50 ppm | RATIO | 5e-5",
        "50 ppb | RATIO | 5e-8",
        "3 ppm/K | RATIO_PER_KELVIN | 3e-6",
        "0.02 ppm/K2 | RATIO_PER_KELVIN_SQUARED | 2e-8",
        "0.02 ppm/K\u00b2 | RATIO_PER_KELVIN_SQUARED | 2e-8",
        "3600 ppm/h | RATIO_PER_TIME | 1e-6",
        "2 h | TIME | 7200",
        "1 h 30 min | TIME | 5400",
        "250 ms | TIME | 0.25",
        "120 dB | GAIN | 1e6",
        "0.3 uV/K | VOLTAGE_PER_KELVIN | 3e-7",
        "45 % | HUMIDITY | 0.45",
        "500 MB | DATA | 5e8",
        "12 | NUMBER | 12",
        "2e-2222222222250 mA | CURRENT | 0",
      })
  void parseAcceptsWhatPeopleWrite(String text, Dimension dimension, double base) {
    assertEquals(base, QuantityText.parse(text, dimension), Math.ulp(base));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '"',
      value = {
        "4,7 kohm | RESISTANCE | column 2: '4,7 kohm' has a decimal comma; expected a point, as in"
            + " '4.7 kohm'.",
        "100 | CURRENT | column 4: '100' has no unit; expected a current, as in '100 uA'. Write the"
            + " unit behind the number.",
        "100 ua | CURRENT | column 5: '100 ua' has the unknown unit 'ua'; expected a current, as in"
            + " '100 uA'. Did you mean 'uA'? Upper and lower case differ.",
        "5 K | TEMPERATURE | column 3: '5 K' is a temperature difference; expected a temperature,"
            + " as in '-10 degC'. A temperature is written in degC, only a difference in K.",
        "5 degC | TEMPERATURE_DIFFERENCE | column 3: '5 degC' is a temperature; expected a"
            + " temperature difference, as in '0.5 K'. A difference is written in K.",
        "10 C | TEMPERATURE | column 4: '10 C' has the unknown unit 'C'; expected a temperature, as"
            + " in '-10 degC'. Write degC.",
        "73.4 F | TEMPERATURE | column 6: '73.4 F' is in degrees Fahrenheit; expected a"
            + " temperature, as in '-10 degC'. Write degC.",
        "73.4 °F | TEMPERATURE | column 6: '73.4 °F' is in degrees Fahrenheit; expected a"
            + " temperature, as in '-10 degC'. Write degC.",
        "3 V | CURRENT | column 3: '3 V' is a voltage; expected a current, as in '100 uA'.",
        "uA | CURRENT | column 1: 'uA' does not begin with a number; expected a current, as in '100"
            + " uA'.",
        "1e999 A | CURRENT | column 1: '1e999 A' is too large for a number; expected a current, as"
            + " in '100 uA'.",
        "4k7 ohm | RESISTANCE | column 2: '4k7 ohm' has the unknown unit 'k7'; expected a"
            + " resistance, as in '4.7 kohm'. Its units are ohm, Tohm, Gohm, Mohm, kohm, mohm,"
            + " uohm.",
        "1 A 2 | CURRENT | column 5: '1 A 2' goes on with '2'; expected a current, as in '100 uA'.",
        "1 min 2 h | TIME | column 7: '1 min 2 h' adds a unit that is not smaller than the one"
            + " before; expected falling units, as in '1 h 30 min'.",
        "3 A | NUMBER | column 3: '3 A' goes on with 'A'; expected a number alone.",
      })
  void parseRefusesWithColumnReasonAndRemedy(String text, Dimension dimension, String message) {
    QuantityException e =
        assertThrows(QuantityException.class, () -> QuantityText.parse(text, dimension));
    assertEquals(message, e.getMessage());
  }

  @ParameterizedTest
  @EnumSource(Dimension.class)
  void whatIsPrintedIsReadBackExactlyAndMatchesThePattern(Dimension dimension) {
    SplittableRandom random = new SplittableRandom(20261125);
    Pattern pattern = Pattern.compile(QuantityText.pattern(dimension));
    for (int i = 0; i < 3000; i++) {
      double magnitude = Math.pow(10, random.nextDouble(-14, 12));
      double value = i == 0 ? 0 : random.nextBoolean() ? magnitude : -magnitude;
      if (i % 3 == 0) {
        value = Double.parseDouble(String.format(java.util.Locale.ROOT, "%.3g", value));
      }
      String text = QuantityText.print(value, dimension);
      assertEquals(value, QuantityText.parse(text, dimension), text);
      if (dimension != Dimension.NUMBER) {
        assertTrue(pattern.matcher(text).matches(), text);
      }
    }
  }

  @ParameterizedTest
  @EnumSource(Dimension.class)
  void theExampleOfEachKindIsAccepted(Dimension dimension) {
    assertEquals(
        QuantityText.parse(dimension.example(), dimension),
        QuantityText.parse(" " + dimension.example() + " ", dimension));
  }

  @ParameterizedTest
  @CsvSource({
    "4700, RESISTANCE, 4.7 kohm",
    "100, RESISTANCE, 100 ohm",
    "0.002, CURRENT, 2 mA",
    "1e-6, CURRENT, 1 uA",
    "23, TEMPERATURE, 23 degC",
    "60, TIME, 1 min",
    "0.0011, RATIO, 0.11 %"
  })
  void printWithoutDigitsLeavesOutZerosThatSayNothing(
      double base, Dimension dimension, String text) {
    assertEquals(text, QuantityText.print(base, dimension));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "0.0012345 | CURRENT | 4 | 1.235 mA",
        "4700 | RESISTANCE | 2 | 4.7 kohm",
        "999.96 | RESISTANCE | 4 | 1.000 kohm",
        "-1.93e-6 | RATIO_PER_KELVIN | 3 | -1.93 ppm/K",
        "23.04 | TEMPERATURE | 3 | 23.0 degC",
        "0.001 | RATIO | 2 | 0.10 %",
        "5e-5 | RATIO | 2 | 50 ppm",
        "0 | CURRENT | 3 | 0 A",
      })
  void printRoundsToDigitsInEngineeringUnits(
      double base, Dimension dimension, int digits, String text) {
    assertEquals(text, QuantityText.print(base, dimension, digits));
  }

  @Test
  void valuesAreRoundedByTwoDigitsOfTheirUncertainty() {
    assertEquals(
        "(-1.930 \u00b1 0.093) ppm/K", QuantityText.withUncertainty(-1.93, 0.0934, "ppm/K"));
    assertEquals("(812.0 \u00b1 9.0) ppm", QuantityText.withUncertainty(812.04, 9.0, "ppm"));
    assertEquals("(12300 \u00b1 4500) V", QuantityText.withUncertainty(12345, 4512, "V"));
  }

  @Test
  void hostileTextsAreRefusedAndNeverCrash() {
    SplittableRandom random = new SplittableRandom(7);
    String alphabet = "0123456789.,+-eE uAkohmV%pdegCK/\u00b5\u03a9\u2212\u0000\n\t";
    for (int i = 0; i < 20000; i++) {
      StringBuilder text = new StringBuilder();
      for (int n = random.nextInt(12); n >= 0; n--) {
        text.append(alphabet.charAt(random.nextInt(alphabet.length())));
      }
      Dimension dimension = Dimension.values()[random.nextInt(Dimension.values().length)];
      try {
        assertTrue(Double.isFinite(QuantityText.parse(text.toString(), dimension)));
      } catch (QuantityException e) {
        int column = e.at(new FilePlace("typed", 1, 1)).place().column();
        assertTrue(column >= 1 && column <= text.length() + 1, e.getMessage());
      }
    }
  }
}
