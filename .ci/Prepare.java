// SPDX-License-Identifier: Apache-2.0
import java.io.IOException;
import java.io.InputStream;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;

/**
 * Makes what lets commands start fast: {@code java .ci/Prepare.java JAR HOME FOLDER JAVA}. Into the
 * folder come {@code native}, SQLite's native part, which its library would unpack at each start,
 * and {@code classes.lst}, the classes that usual commands load with that Java, of which the
 * launcher has an archive made where the jar is.
 */
final class Prepare {
  /** As the launcher sets them. */
  private static final List<String> FLAGS =
      List.of("-XX:+UseSerialGC", "-XX:TieredStopAtLevel=1", "-Xlog:disable");

  /** Functions of the kinds of a library whose classes are too old to be archived with functions. */
  private static final String TOO_OLD = ")Lpicocli/";

  /** Classes of other loaders are told apart by numbers, which newer Java gives anew in each list. */
  private static final String FOREIGN = " source: ";

  /** The exit code of a verdict that is open. */
  private static final int OPEN = 7;

  private final Path jar;
  private final Path home;
  private final String java;
  private final Path work;

  private Prepare(Path jar, Path home, String java, Path work) {
    this.jar = jar;
    this.home = home;
    this.java = java;
    this.work = work;
  }

  public static void main(String[] args) throws IOException, InterruptedException {
    Path folder = Path.of(args[2]).toAbsolutePath();
    Files.createDirectories(folder);
    Path work = Files.createTempDirectory(folder, "work");
    try {
      Path jar = Path.of(args[0]).toAbsolutePath();
      Prepare prepare = new Prepare(jar, Path.of(args[1]).toAbsolutePath(), args[3], work);
      prepare.unpack(folder.resolve("native"));
      Files.write(folder.resolve("classes.lst"), prepare.classes());
    } finally {
      try (Stream<Path> all = Files.walk(work)) {
        for (Path each : all.sorted(Comparator.reverseOrder()).toList()) {
          Files.delete(each);
        }
      }
    }
  }

  /** Only its owner may write where a library is loaded from. */
  private void unpack(Path to) throws IOException {
    Files.createDirectories(to);
    if (Files.getFileStore(to).supportsFileAttributeView("posix")) {
      Files.setPosixFilePermissions(to, PosixFilePermissions.fromString("rwxr-xr-x"));
    }
    try (URLClassLoader loader = new URLClassLoader(new URL[] {jar.toUri().toURL()})) {
      Object folder =
          loader.loadClass("org.sqlite.util.OSInfo").getMethod("getNativeLibFolderPathForCurrentOS").invoke(null);
      String name = System.mapLibraryName("sqlitejdbc");
      try (InputStream in = loader.getResourceAsStream("org/sqlite/native/" + folder + "/" + name)) {
        Files.copy(in, work.resolve(name));
      }
      Files.move(work.resolve(name), to.resolve(name), StandardCopyOption.ATOMIC_MOVE);
    } catch (ReflectiveOperationException e) {
      throw new IOException(e);
    }
  }

  private Set<String> classes() throws IOException, InterruptedException {
    Path readings = work.resolve("readings.csv");
    Files.writeString(readings, readings());
    String book = work.resolve("book.db").toString();
    String byHand = home.resolve("examples/fx-3-by-hand.csv").toString();
    String datasheet = home.resolve("examples/fx-3.datasheet.yaml").toString();
    String sequence = home.resolve("sequences/quick-look.yaml").toString();
    String page = work.resolve("page.html").toString();
    Set<String> all = new LinkedHashSet<>();
    // What is analyzed twice is compared with what was found before.
    for (List<String> words :
        List.of(
            List.of("import", readings.toString()),
            List.of("import", byHand, "--datasheet", datasheet),
            List.of("runs"),
            List.of("analyze", "1"),
            List.of("analyze", "2", "--all"),
            List.of("analyze", "2"),
            List.of("report", "2", "-o", page),
            List.of("compare", "1", "2"),
            List.of("show", "2"))) {
      all.addAll(listed(Stream.concat(words.stream(), Stream.of("--logbook", book)).toList()));
    }
    all.addAll(listed(List.of("preview", sequence, "--simulated", "--datasheet", datasheet)));
    all.addAll(listed(List.of("--help")));
    return all;
  }

  private Set<String> listed(List<String> words) throws IOException, InterruptedException {
    Path list = work.resolve("loaded.lst");
    List<String> command = new ArrayList<>(FLAGS);
    command.addAll(List.of("-Dmillrace.home=" + home, "-XX:DumpLoadedClassList=" + list, "-jar", jar.toString()));
    command.addAll(words);
    run(command);
    try (Stream<String> lines = Files.lines(list)) {
      return lines
          .filter(l -> !l.startsWith("#") && !(l.startsWith("@") && l.contains(TOO_OLD)) && !l.contains(FOREIGN))
          .map(l -> l.replaceFirst(" id: [0-9]+$", ""))
          .collect(LinkedHashSet::new, Set::add, Set::addAll);
    }
  }

  private static String readings() {
    StringBuilder text = new StringBuilder("range,nominal_A,current_A,load_ohm,temperature_degC,time_s\n");
    for (int k = 0; k < 60; k++) {
      text.append("1mA,0.001,").append(1e-3 + 1e-9 * (k * k % 7)).append(',').append(k / 10 * 50);
      text.append(",23,").append(k).append('\n');
    }
    return text.toString();
  }

  private void run(List<String> words) throws IOException, InterruptedException {
    List<String> command = new ArrayList<>();
    command.add(java);
    command.addAll(words);
    Process process =
        new ProcessBuilder(command)
            .redirectOutput(ProcessBuilder.Redirect.DISCARD)
            .redirectError(ProcessBuilder.Redirect.DISCARD)
            .start();
    process.getOutputStream().close();
    int code = process.waitFor();
    if (code > 1 && code != OPEN) {
      throw new IOException(String.join(" ", command) + " ended with exit code " + code);
    }
  }
}
