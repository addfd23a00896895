// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.logbook.Logbook;
import millrace.logbook.RunStart;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.io.TempDir;

/** A test in a folder with a logbook and a file to import. */
abstract class Importing {
  static final Instant NOW = Instant.parse("2026-01-15T20:30:00Z");

  @TempDir Path folder;
  @AutoClose Logbook logbook;

  @BeforeEach
  void open() {
    logbook = Logbook.openOrCreate(folder.resolve("millrace.db"));
  }

  static Import.Circumstances plain() {
    return new Import.Circumstances(
        Optional.empty(),
        RunStart.People.NONE,
        Optional.empty(),
        Map.of(),
        "0.0.1",
        NOW,
        ZoneOffset.ofHours(1));
  }

  Path file(String content) throws IOException {
    return Files.write(folder.resolve("night.csv"), content.getBytes(UTF_8));
  }

  List<ImportedRun> imports(String content) throws IOException {
    return Import.check(file(content)).into(logbook, plain());
  }
}
