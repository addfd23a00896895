// SPDX-License-Identifier: Apache-2.0
package millrace.speed;

import static millrace.speed.TimedCommand.QUICK;

import java.io.BufferedOutputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import millrace.speed.SpokenNight.RoundTrip;

/**
 * The demonstration's night as a whole process, with simulation, results and report, beside a
 * process, started by the same compiler, that says the same over a socket and commits as often.
 */
final class DemonstrationSpeed implements SpeedPart {
  private static final Path NIGHT = Path.of("sequences", "overnight-characterization.yaml");
  private static final Path SMALL = Path.of("sequences", "quick-look.yaml");
  private static final Path SHEET = Path.of("examples", "fx-3.datasheet.yaml");

  @Override
  public void into(SpeedTable table) throws IOException, InterruptedException {
    boolean whole = table.size(1, 0) > 0;
    Path folder = Files.createDirectories(table.folder().resolve("demonstrated"));
    Path said = folder.resolve("said");
    SpokenNight night = SpokenNight.of(whole ? NIGHT : SMALL, folder);
    written(night, said);
    Path demo = folder.resolve("demo");
    Path bare = folder.resolve("bare.db");
    table.beside(
        whole ? "the demonstration's night" : "a quick look, simulated",
        whole ? demonstration(demo) : quickLook(demo),
        "bare round trips and commits",
        TimedCommand.java(QUICK, BareNight.class.getName(), said.toString(), bare.toString()),
        whole ? "1.6" : "",
        () -> {
          Files.deleteIfExists(bare);
          Files.deleteIfExists(demo.resolve("demo.db"));
        });
  }

  private static TimedCommand demonstration(Path demo) throws IOException {
    return TimedCommand.launched(QUICK, "demo", "-o", demo.toString()).whateverItsVerdict();
  }

  private static TimedCommand quickLook(Path demo) throws IOException {
    Files.createDirectories(demo);
    return TimedCommand.launched(
            QUICK,
            "run",
            SMALL.toString(),
            "--unit",
            "FX3-00001",
            "--datasheet",
            SHEET.toString(),
            "--simulated",
            "--logbook",
            demo.resolve("demo.db").toString())
        .whateverItsVerdict();
  }

  /** How many readings and commits, then what was said. */
  private static void written(SpokenNight night, Path file) throws IOException {
    try (DataOutputStream out =
        new DataOutputStream(new BufferedOutputStream(Files.newOutputStream(file)))) {
      out.writeInt(Math.toIntExact(night.readings()));
      out.writeInt(Math.toIntExact(night.commits()));
      out.writeInt(night.trips().size());
      for (RoundTrip trip : night.trips()) {
        out.writeUTF(trip.sent());
        out.writeUTF(trip.received());
      }
    }
  }
}
