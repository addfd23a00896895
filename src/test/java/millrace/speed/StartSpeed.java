// SPDX-License-Identifier: Apache-2.0
package millrace.speed;

import static millrace.speed.TimedCommand.QUICK;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * Commands that are over soon, beside a virtual machine that says hello: as the launcher starts
 * them from the source tree, where it is built, and those of the plain archive, where one is made
 * ({@code .ci/package}).
 */
final class StartSpeed implements SpeedPart {
  private static final int FEW = 60;

  @Override
  public void into(SpeedTable table) throws IOException, InterruptedException {
    Path small = ImportedReadings.written(table.folder(), FEW);
    String book = table.folder().resolve("small.db").toString();
    TimedCommand.millrace(QUICK, "import", small.toString(), "--logbook", book)
        .done(table.folder());
    if (TimedCommand.isBuilt()) {
      started(table, "", TimedCommand.LAUNCHER, book);
    } else {
      table.absent("starts by the launcher", "it is not built", "2.5 to 7");
    }
    Optional<Path> plain = plainArchive();
    if (table.size(1, 0) > 0 && plain.isPresent()) {
      started(table, ", installed", unpacked(table, plain.get()), book);
    }
  }

  private static Optional<Path> plainArchive() throws IOException {
    Path folder = Path.of("target", "package");
    if (!Files.isDirectory(folder)) {
      return Optional.empty();
    }
    try (Stream<Path> all = Files.list(folder)) {
      return all.filter(each -> each.toString().endsWith(".tar.gz")).findFirst();
    }
  }

  private static Path unpacked(SpeedTable table, Path archive)
      throws IOException, InterruptedException {
    Path to = Files.createDirectories(table.folder().resolve("installed"));
    TimedCommand.of(
            "tar",
            "-xzf",
            archive.toAbsolutePath().toString(),
            "-C",
            to.toString(),
            "--strip-components=1")
        .done(table.folder());
    return to.resolve("millrace");
  }

  private static void started(SpeedTable table, String where, Path launcher, String book)
      throws IOException, InterruptedException {
    // The first start after a build prepares the others.
    TimedCommand.of(launcher.toString(), "--version").done(table.folder());
    start(table, "`--version`" + where, "2.5", launcher, List.of("--version"));
    start(table, "`runs`, one run" + where, "4", launcher, List.of("runs", "--logbook", book));
    start(
        table,
        "`analyze` of a small run" + where,
        "7",
        launcher,
        List.of("analyze", "1", "--logbook", book));
  }

  private static void start(
      SpeedTable table, String work, String asked, Path launcher, List<String> words)
      throws IOException, InterruptedException {
    TimedCommand bare = TimedCommand.java(QUICK, BareJava.class.getName());
    String[] command =
        Stream.concat(Stream.of(launcher.toString()), words.stream()).toArray(String[]::new);
    table.beside(work, TimedCommand.of(command), "bare Java", bare, asked);
  }
}
