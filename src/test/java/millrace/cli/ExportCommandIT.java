// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ExportCommandIT {
  private static final String NIGHT =
      "unit,range,nominal_A,point,load_ohm,current_A,origin\r\n"
          + "BX5-0001,1mA,0.001,1,100,0.0010000021,imported\r\n"
          + "BX5-0001,1mA,0.001,2,4700,NaN,imported\r\n";

  @TempDir Path folder;
  private Path logbook = Path.of("");

  private Spoken millrace(String command, String... more) {
    List<String> words = new ArrayList<>(List.of(command, "--logbook", logbook.toString()));
    words.addAll(List.of(more));
    Spoken said = Spoken.by(words.toArray(String[]::new));
    return new Spoken(said.code(), said.out(), said.err().replace(folder + "/", ""));
  }

  @BeforeEach
  void importANight() throws IOException {
    logbook = folder.resolve("a.db");
    Path night = Files.writeString(folder.resolve("night.csv"), NIGHT);
    assertEquals("1\n", millrace("import", night.toString(), "--quiet").out());
  }

  @Test
  void writesTheRowsAloneOnStandardOutput() {
    Spoken outcome = millrace("export", "1");
    assertEquals(NIGHT, outcome.out());
    assertEquals("Exported 2 rows of run 1 to standard output.\n", outcome.err());
    assertEquals(0, outcome.code());
  }

  @Test
  void writesAFileThatImportTakes() throws IOException {
    Path file = folder.resolve("out.csv");
    assertEquals(0, millrace("export", "1", "-o", file.toString()).code());
    assertEquals(NIGHT, Files.readString(file));
    assertEquals("2\n", millrace("import", file.toString(), "--quiet").out());
  }

  @Test
  void writesConstantsAndSaysWhatIsMissing() {
    Spoken outcome = millrace("export", "1", "--constants");
    assertEquals(0, outcome.code(), outcome.err());
    assertTrue(outcome.out().startsWith("unit,origin,run_uuid,"), outcome.out());
    assertTrue(outcome.out().contains("run_uuid"), outcome.out());
  }

  @Test
  void refusesARunThatIsNotThereAndAFileThatCannotBeWritten() {
    Spoken none = millrace("export", "7");
    assertEquals(2, none.code());
    assertTrue(none.err().contains("7"), none.err());
    Path nowhere = folder.resolve("no/such/folder.csv");
    Spoken unwritable = millrace("export", "1", "-o", nowhere.toString());
    assertEquals(2, unwritable.code());
    assertTrue(unwritable.err().contains("cannot be written"), unwritable.err());
  }

  @Test
  void endsWithTheLogbooksCodeWhereThereIsNone() {
    logbook = folder.resolve("none.db");
    assertEquals(5, millrace("export", "1").code());
  }
}
