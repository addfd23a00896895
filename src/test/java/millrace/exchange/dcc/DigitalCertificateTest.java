// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.dcc;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import millrace.fault.BadInputException;
import millrace.quantity.Dimension;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DigitalCertificateTest {
  /** A meter of an invented house, in volts against millivolts. */
  static final String METER =
      """
      <d:digitalCalibrationCertificate xmlns:d="https://ptb.de/dcc" xmlns:s="https://ptb.de/si" schemaVersion="3.2.0">
      <d:administrativeData>
      <d:coreData><d:uniqueIdentifier>TVL-88</d:uniqueIdentifier>
      <d:endPerformanceDate>2026-03-04</d:endPerformanceDate></d:coreData>
      <d:items><d:item><d:identifications><d:identification><d:value>V-17</d:value></d:identification></d:identifications></d:item></d:items>
      <d:calibrationLaboratory><d:contact><d:name><d:content>Tarn Vale (invented): lab's</d:content></d:name></d:contact></d:calibrationLaboratory>
      </d:administrativeData>
      <d:measurementResults><d:measurementResult><d:results><d:result><d:data><d:list>
      <d:quantity refType="basic_referenceValue"><s:realListXMLList><s:valueXMLList>1 10</s:valueXMLList><s:unitXMLList>\\volt</s:unitXMLList></s:realListXMLList></d:quantity>
      <d:quantity refType="x basic_measuredValue"><s:realListXMLList><s:valueXMLList>1000.002 9999.95</s:valueXMLList><s:unitXMLList>\\milli\\volt</s:unitXMLList></s:realListXMLList></d:quantity>
      <d:quantity refType="basic_measurementError"><s:realListXMLList><s:valueXMLList>2 -50</s:valueXMLList><s:unitXMLList>\\micro\\volt</s:unitXMLList>
      <s:expandedUncXMLList><s:uncertaintyXMLList>4 30</s:uncertaintyXMLList><s:coverageFactorXMLList>2</s:coverageFactorXMLList><s:coverageProbabilityXMLList>0.95</s:coverageProbabilityXMLList></s:expandedUncXMLList>
      </s:realListXMLList></d:quantity>
      </d:list></d:data></d:result></d:results></d:measurementResult></d:measurementResults>
      </d:digitalCalibrationCertificate>
      """;

  private static DigitalCertificate read(String text) {
    return DigitalCertificate.read("v.xml", text.getBytes(UTF_8));
  }

  private static String refusal(String text) {
    return assertThrows(BadInputException.class, () -> read(text)).getMessage();
  }

  @Test
  void readsReferenceIndicationErrorUAndK() {
    DigitalCertificate read = read(METER);
    assertEquals("TVL-88", read.number());
    assertEquals(List.of("V-17"), read.items());
    CalibrationTable table = read.tables().get(0);
    assertEquals(Dimension.VOLTAGE, table.indication());
    CalibrationTable.Row second = table.rows().get(1);
    assertEquals(10, second.reference());
    assertEquals(9.99995, second.indication(), 1e-12);
    assertEquals(-50e-6, second.error(), 1e-15);
    assertEquals(30e-6, second.expanded(), 1e-15);
    assertEquals(2, second.coverageFactor());
    assertEquals(50e-6, table.corrections().get(1).correction(), 1e-15);
    assertEquals(15e-6, table.corrections().get(1).standardUncertainty(), 1e-15);
  }

  @Test
  void refusesAnErrorThatContradictsItsRow() {
    assertEquals(
        "v.xml:8:81: value 1 contradicts itself: its error is 0.0002000, but indication minus"
            + " reference is 2.000e-6; expected the same within U, 4.0e-6. Ask who issued the"
            + " certificate, or type the table into the bench file by hand.",
        refusal(METER.replace(">2 -50<", ">200 -50<")));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        ">1 10<|>1 ten<|'ten' is no number",
        ">1 10<|>1 NaN<|'NaN' is no number",
        ">1 10<|>1 10 20<|its lists are of different lengths",
        ">4 30<|>4 30 5<|3 uncertainties or factors for 2 values",
        ">4 30<|>4 0<|U or k of value 2 is not above 0",
        "\\micro\\volt|\\furlong|the unit '\\furlong' is not known here",
        "\\micro\\volt|\\micro\\ampere|its errors are of another kind",
        ">2026-03-04<|>the fourth<|'the fourth' is no date",
        "d:list>|d:lists>|",
        "schemaVersion|<|this is no well-formed XML",
      })
  void saysWhereAndWhatItDoesNotRead(String there, String instead, String found) {
    String text = METER.replace(there, instead);
    if (found == null) {
      assertTrue(read(text).tables().isEmpty());
      assertTrue(read(text).unread().get(0).contains("no reference value"), text);
    } else {
      String message = refusal(text);
      assertTrue(message.startsWith("v.xml:") && message.contains(found), message);
    }
  }

  @ParameterizedTest
  @CsvSource({
    "\\ampere, CURRENT, 1",
    "\\nano\\ampere, CURRENT, 1e-9",
    "\\kilogram\\metre\\tothe{2}\\ampere\\tothe{-2}\\second\\tothe{-3}, RESISTANCE, 1",
    "\\volt\\per\\ampere, RESISTANCE, 1",
    "\\kilo\\ohm, RESISTANCE, 1000",
    "\\degreecelsius, TEMPERATURE_DIFFERENCE, 1",
  })
  void knowsUnitsAsTheyAreComposed(String text, Dimension kind, double factor) {
    SiUnit unit = SiUnit.parse(text).orElseThrow();
    assertEquals(kind, unit.kind().orElseThrow());
    assertEquals(factor, unit.factor(), 1e-12 * factor);
  }

  /**
   * What a file from a stranger may try; nothing outside it is opened, nothing in it multiplies.
   */
  @Test
  void refusesWhatAnAttackerWouldPutIn(@TempDir Path folder) throws IOException {
    Path secret = Files.writeString(folder.resolve("secret.txt"), "the word is osprey");
    String outside =
        "<!DOCTYPE d [<!ENTITY e SYSTEM '%s'>]>\n".formatted(secret.toUri())
            + METER.replace("TVL-88", "&e;");
    String laughs =
        "<!DOCTYPE d [<!ENTITY a 'ha'>%s]>\n".formatted(tenfold())
            + METER.replace("TVL-88", "&a9;");
    String remote = "<!DOCTYPE d SYSTEM 'http://127.0.0.1:9/d.dtd'>\n" + METER;
    for (String attack : List.of(outside, laughs, remote)) {
      String message = refusal(attack);
      assertTrue(message.contains("it declares a document type or entities"), message);
      assertFalse(message.contains("osprey"), message);
    }
    assertTrue(refusal("<a>".repeat(100) + "</a>".repeat(100)).contains("nested too deep"));
    assertTrue(refusal("<a>" + "<b/>".repeat(100_001) + "</a>").contains("too many elements"));
    assertTrue(refusal("<html/>").contains("the file holds 'html'"));
  }

  private static String tenfold() {
    return IntStream.range(1, 10)
        .mapToObj(
            i -> "<!ENTITY a%s '%s'>".formatted(i, ("&a" + (i == 1 ? "" : i - 1) + ";").repeat(10)))
        .collect(Collectors.joining());
  }

  /** The JDK's parser, given such bytes, prints a line of its own past the one console. */
  @Test
  void readsTheEncodingThatIsNamedAndSaysWhichItIsNot() {
    byte[] bytes = {(byte) 0xff, (byte) 0xfe, 0, 'j'};
    String message =
        assertThrows(BadInputException.class, () -> DigitalCertificate.read("v.xml", bytes))
            .getMessage();
    assertTrue(message.startsWith("v.xml: the file is not text in UTF-8; expected XML"), message);
    String latin = "<?xml version='1.0' encoding='ISO-8859-1'?>\n" + METER.replace("Tarn", "Tärn");
    assertTrue(
        DigitalCertificate.read("v.xml", latin.getBytes(ISO_8859_1))
            .laboratory()
            .startsWith("Tärn"));
    assertTrue(refusal(latin.replace("8859-1", "0-0")).contains("is not text in ISO-0-0"));
  }

  @Test
  void refusesAFileThatIsTooLarge(@TempDir Path folder) throws IOException {
    Path large = folder.resolve("large.xml");
    try (RandomAccessFile file = new RandomAccessFile(large.toFile(), "rw")) {
      file.setLength(XmlFile.MOST_BYTES + 1L);
    }
    String message =
        assertThrows(BadInputException.class, () -> DigitalCertificate.read(large)).getMessage();
    assertTrue(message.contains("the file has 20000001 bytes; expected at most 20000000"), message);
  }

  private static DigitalCertificate example(String name) {
    String folder = System.getProperty("millrace.dcc", "");
    assumeTrue(!folder.isEmpty(), "skipped: published examples (-Dmillrace.dcc names no folder)");
    return DigitalCertificate.read(Path.of(folder, name));
  }

  /**
   * Example of the national metrology institute PTB (Germany), 'Good Practise Temperature' 1.2,
   * which says of itself that it is no certificate. It stays outside the project.
   */
  @Test
  void readsThePublishedExampleOfATemperatureSensor() {
    DigitalCertificate read = example("example_temperature_sensor_3_1_1.xml");
    List<CalibrationTable.Row> rows = read.tables().get(0).rows();
    assertEquals(5, rows.size());
    assertEquals(33.098, rows.get(0).reference());
    assertEquals(33.17, rows.get(0).indication());
    assertEquals(0.072, rows.get(0).error());
    assertEquals(0.061, rows.get(4).expanded());
    assertEquals(2, rows.get(4).coverageFactor());
    assertEquals(0.084, read.tables().get(0).corrections().get(4).correction());
  }

  /**
   * Of the same origin: ohms against temperatures, with U for each, in units made of base units.
   */
  @Test
  void readsThePublishedExampleOfAResistanceThermometerWhichIsNoCorrection() {
    DigitalCertificate read = example("example_resistance_thermometer.xml");
    CalibrationTable table = read.tables().get(0);
    assertFalse(table.isOfOneKind());
    assertEquals(9, table.rows().size());
    assertEquals(-0.001, table.rows().get(0).reference());
    assertEquals(123.2880, table.rows().get(6).indication());
    assertEquals(0.0048, table.rows().get(6).expanded());
    assertTrue(
        read.unread().get(0).contains("it has no reference value"), read.unread().toString());
  }
}
