// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class BenchCertificateCommandIT {
  private static final String BENCH =
      """
      bench: Tarn bench     # an invented one
      instruments:
        amps:
          driver: by hand
          address: by hand
          # the one with the green sticker
          roles:
            current meter:
              # from the old certificate
              corrections:  # reference minus indication
                # low end
                - {at: 1 uA, correction: 1 pA, u: 2 pA}
                - {at: 1 mA,
                   correction: 1 nA, u: 2 nA}

              # of its manual
              accuracy:
                - {reading: 20 ppm}
            voltmeter: {}   # across the load
      wiring: {voltmeter: across load}
      # the end
      """;

  @TempDir Path folder;
  private Path bench = Path.of("");
  private Path meter = Path.of("");

  @BeforeEach
  void aBenchAndACertificate() throws IOException {
    bench = Files.writeString(folder.resolve("bench.yaml"), BENCH);
    meter = Files.writeString(folder.resolve("amps.xml"), certificate("\\ampere"));
  }

  private static String certificate(String unit) {
    String list =
        "<s:valueXMLList>%s</s:valueXMLList><s:unitXMLList>\\milli" + unit + "</s:unitXMLList>";
    String quantity =
        "<d:quantity refType='basic_%s'><s:realListXMLList>"
            + list
            + "%s</s:realListXMLList></d:quantity>";
    return """
    <d:digitalCalibrationCertificate xmlns:d="https://ptb.de/dcc" xmlns:s="https://ptb.de/si">
    <d:administrativeData><d:coreData><d:uniqueIdentifier>TVL-9: a</d:uniqueIdentifier>
    <d:endPerformanceDate>2026-03-04</d:endPerformanceDate></d:coreData>
    <d:calibrationLaboratory><d:contact><d:name><d:content>Tarn's</d:content></d:name></d:contact></d:calibrationLaboratory>
    </d:administrativeData><d:measurementResults><d:measurementResult><d:results><d:result><d:data><d:list>
    """
        + quantity.formatted("referenceValue", "0.1 1", "")
        + quantity.formatted(
            "measuredValue",
            "0.100001 1.000004",
            "<s:expandedUncXMLList><s:uncertaintyXMLList>2e-6</s:uncertaintyXMLList><s:coverageFactorXMLList>2"
                + "</s:coverageFactorXMLList><s:coverageProbabilityXMLList>0.95</s:coverageProbabilityXMLList></s:expandedUncXMLList>")
        + "</d:list></d:data></d:result></d:results></d:measurementResult></d:measurementResults></d:digitalCalibrationCertificate>";
  }

  private Spoken spoken(String... more) {
    String[] words = {
      "bench", "certificate", meter.toString(), "--instrument", "amps", "--bench", bench.toString()
    };
    String[] all = Arrays.copyOf(words, words.length + more.length);
    System.arraycopy(more, 0, all, words.length, more.length);
    return Spoken.by(all);
  }

  @Test
  void showsTheChangedBlockAndLeavesTheFile() throws IOException {
    Spoken said = spoken();
    assertEquals(0, said.code(), said.err());
    assertTrue(said.out().startsWith("2 corrections for 'amps' as current meter; "), said.out());
    assertTrue(
        said.out().contains("- {at: 1.000004 mA, correction: -4 nA, u: 2 nA, k: 2}"), said.out());
    assertEquals(BENCH, Files.readString(bench));
  }

  @Test
  void writesWithCommentsInTheirOrderAndACopyBeside() throws IOException {
    assertEquals(0, spoken("--write").code());
    String changed =
        BENCH
            .replace(
                "    address: by hand\n",
                "    address: by hand\n"
                    + "    certificate: {laboratory: 'Tarn''s', number: 'TVL-9: a', calibrated:"
                    + " 2026-03-04}\n")
            .replace(
                "          - {at: 1 uA, correction: 1 pA, u: 2 pA}\n"
                    + "          - {at: 1 mA,\n"
                    + "             correction: 1 nA, u: 2 nA}\n",
                "          - {at: 100.001 uA, correction: -1 nA, u: 2 nA, k: 2}\n"
                    + "          - {at: 1.000004 mA, correction: -4 nA, u: 2 nA, k: 2}\n");
    assertEquals(changed, Files.readString(bench));
    assertEquals(BENCH, Files.readString(folder.resolve("bench.yaml.before")));
    assertEquals(0, spoken("--write").code());
    assertEquals(changed, Files.readString(bench));
    assertEquals(changed, Files.readString(folder.resolve("bench.yaml.before-2")));
  }

  private void dueOn(String day) throws IOException {
    Files.writeString(
        bench,
        BENCH.replace(
            "    address: by hand\n",
            "    address: by hand\n    certificate: {laboratory: Tarn, number: 1, due: "
                + day
                + "}\n"));
  }

  /** The day of the certificate before never counts for the new one. */
  @Test
  void saysInTheBlockUntilWhenTheOneBeforeCounted() throws IOException {
    dueOn("2026-03-31");
    Spoken said = spoken("--write");
    String changed = Files.readString(bench);
    String block =
        "    certificate: {laboratory: 'Tarn''s', number: 'TVL-9: a', calibrated: 2026-03-04}\n"
            + "    # the certificate before was due on 2026-03-31; state 'due: DATE' of this one,"
            + " or use --due\n";
    assertTrue(changed.contains(block), changed);
    assertFalse(changed.contains("due: 2026-03-31"), changed);
    assertTrue(said.out().contains("nobody will be told that it is overdue"), said.out());
    assertEquals(0, spoken("--write").code());
    assertEquals(changed, Files.readString(bench));
  }

  @Test
  void takesTheNewDayFromThePersonWhoKnowsTheInterval() throws IOException {
    dueOn("2026-03-31");
    Spoken said = spoken("--write", "--due", "2027-03-04");
    String changed = Files.readString(bench);
    assertTrue(changed.contains(", calibrated: 2026-03-04, due: 2027-03-04}\n"), changed);
    assertFalse(changed.contains("2026-03-31"), changed);
    assertFalse(said.out().contains("overdue"), said.out());
    Spoken early = spoken("--write", "--due", "2025-03-04");
    assertEquals(2, early.code());
    assertTrue(
        early.err().contains("2025-03-04 lies before its calibration on 2026-03-04"), early.err());
  }

  @Test
  void fillsARoleOfWhichNothingWasKnown() throws IOException {
    Files.writeString(meter, certificate("\\volt"));
    assertEquals(0, spoken("--write").code());
    String changed = Files.readString(bench);
    assertTrue(
        changed.contains(
            "      voltmeter:   # across the load\n"
                + "        corrections:\n"
                + "          - {at: 100.001 uV,"),
        changed);
  }

  @Test
  void keepsTheLineEndsOfAFile() throws IOException {
    Files.writeString(bench, BENCH.replace("\n", "\r\n"));
    assertEquals(0, spoken("--write").code());
    String changed = Files.readString(bench);
    assertFalse(changed.replace("\r\n", "").contains("\n"), changed);
  }

  @Test
  void refusesWhatIsWrittenInBracesAndWhatDoesNotFit() throws IOException {
    Files.writeString(meter, certificate("\\ohm"));
    Spoken ohms = spoken("--write");
    assertEquals(2, ohms.code());
    assertTrue(
        ohms.err().contains("indications in ohm against references in ohm (100.001 uohm"),
        ohms.err());
    String braces =
        BENCH
            .substring(0, BENCH.indexOf("      current meter"))
            .replace(
                "    roles:\n", "    roles: {current meter: {accuracy: [{reading: 20 ppm}]}}\n");
    Files.writeString(meter, certificate("\\ampere"));
    Files.writeString(bench, braces);
    Spoken said = spoken("--write");
    assertEquals(2, said.code());
    assertTrue(said.err().contains("stands in braces"), said.err());
    assertEquals(braces, Files.readString(bench));
  }
}
