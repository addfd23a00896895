// SPDX-License-Identifier: Apache-2.0
package millrace.laboratory;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.UUID;
import millrace.fault.BadInputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class LaboratoryFileTest {
  private static final UUID RUN = UUID.fromString("0190e0a0-1111-7222-8333-444455556666");

  private static BadInputException refused(String text) {
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
    return assertThrows(
        BadInputException.class, () -> LaboratoryFile.FORM.readFile("lab.yaml", bytes));
  }

  @Test
  void theExampleSaysWhoIssues() {
    Laboratory osk = LaboratoryFile.read(Path.of("examples/osk.laboratory.yaml"));
    assertEquals(List.of("Harbour Road 4", "Osk"), osk.address());
    assertEquals("room 2, Harbour Road 4, Osk", osk.whereItCalibrates());
    assertEquals("FEN-2026-12", osk.numbering().number(2026, 12, "FX3-00042", RUN));
  }

  @Test
  void everyFaultIsNamedWithItsPlace() {
    String said =
        refused("laboratory: Osk\ncertificate number: '{run}'\nadress: Osk\n").getMessage();
    assertTrue(said.contains("lab.yaml:3:1: "), said);
    assertTrue(said.contains("address"), said);
  }

  @ParameterizedTest
  @ValueSource(strings = {"OSK-1", "OSK-{year}", "OSK-{unit}"})
  void aNumberThatDoesNotTellRunsApartIsRefused(String pattern) {
    String said =
        refused("laboratory: Osk\naddress: Osk\ncertificate number: '" + pattern + "'\n")
            .getMessage();
    assertTrue(said.contains("lab.yaml:3:21: "), said);
    assertTrue(said.contains("gives every run the same number"), said);
  }

  @Test
  void otherBracesAreRefused() {
    String said =
        refused("laboratory: Osk\naddress: Osk\ncertificate number: '{run}-{day}'\n").getMessage();
    assertTrue(said.contains("braces around something else"), said);
  }

  @Test
  void runsOfAllLogbooksAreToldApartByTheirUuid() {
    CertificateNumbering numbering = new CertificateNumbering("{unit}/{uuid}");
    assertEquals("FX3-00042/444455556666", numbering.number(2026, 1, "FX3-00042", RUN));
  }
}
