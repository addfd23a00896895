// SPDX-License-Identifier: Apache-2.0
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.Enumeration;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Predicate;
import java.util.jar.JarEntry;
import java.util.jar.JarFile;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;

/**
 * The libraries of a package with their licences: {@code java .ci/Bundle.java LIB OUT LICENCES
 * REPOSITORY NATIVE}. Jars are copied as they are but for two of the Apache licence, of which most
 * is for other machines or for nobody: the database library leaves out the native parts but NATIVE,
 * the library of collections what no class of the others comes to. Licences are those that a jar
 * holds and those that its description in Maven's local repository names.
 */
final class Bundle {
  private static final String COLLECTIONS = "it/unimi/dsi/fastutil/";
  private static final Pattern NAMED = Pattern.compile("it[/.]unimi[/.]dsi[/.]fastutil[/.][\\w$/.]+");
  private static final Pattern LICENCE = Pattern.compile("(?i)(.*/)?(licen[sc]e|notice|copying)[^/]*");

  private final Path from;
  private final Path repository;

  private Bundle(Path from, Path repository) {
    this.from = from;
    this.repository = repository;
  }

  public static void main(String[] args) throws IOException {
    Bundle bundle = new Bundle(Path.of(args[0]), Path.of(args[3]));
    Path to = Files.createDirectories(Path.of(args[1]));
    Path licences = Files.createDirectories(Path.of(args[2]));
    List<String> all = new ArrayList<>();
    for (Path jar : bundle.jars()) {
      String name = jar.getFileName().toString();
      Path copy = to.resolve(name);
      if (name.startsWith("fastutil-")) {
        Set<String> needed = bundle.needed(jar);
        copied(jar, copy, entry -> !entry.endsWith(".class") || needed.contains(entry));
      } else if (name.startsWith("sqlite-jdbc-")) {
        copied(jar, copy, entry -> !entry.startsWith("org/sqlite/native/") || entry.startsWith(args[4]));
      } else {
        Files.copy(jar, copy);
      }
      all.add(name + ": " + bundle.licence(name.replaceFirst("\\.jar$", "")) + changed(jar, copy));
      texts(jar, licences.resolve(name.replaceFirst("\\.jar$", "")));
    }
    Files.write(licences.resolve("libraries.txt"), all);
  }

  private static String changed(Path jar, Path copy) throws IOException {
    return Files.mismatch(jar, copy) < 0 ? "" : " (parts for other machines or that nothing uses left out)";
  }

  private List<Path> jars() throws IOException {
    try (Stream<Path> all = Files.list(from)) {
      return all.filter(each -> each.toString().endsWith(".jar")).sorted().toList();
    }
  }

  /** What others name of it, in any way that a class file can, and what those name. */
  private Set<String> needed(Path collections) throws IOException {
    Map<String, Set<String>> named = new HashMap<>();
    Deque<String> open = new ArrayDeque<>();
    for (Path jar : jars()) {
      try (JarFile file = new JarFile(jar.toFile())) {
        for (Enumeration<JarEntry> entries = file.entries(); entries.hasMoreElements(); ) {
          JarEntry entry = entries.nextElement();
          if (entry.getName().endsWith(".class")) {
            Set<String> names = names(file, entry);
            named.merge(entry.getName(), names, (a, b) -> union(a, b));
            if (!entry.getName().startsWith(COLLECTIONS)) {
              open.addAll(names);
            }
          }
        }
      }
    }
    Set<String> needed = new HashSet<>();
    while (!open.isEmpty()) {
      String next = open.pop();
      if (needed.add(next)) {
        open.addAll(named.getOrDefault(next, Set.of()));
      }
    }
    return needed;
  }

  private static Set<String> union(Set<String> a, Set<String> b) {
    Set<String> both = new HashSet<>(a);
    both.addAll(b);
    return both;
  }

  private static Set<String> names(JarFile file, JarEntry entry) throws IOException {
    try (InputStream in = file.getInputStream(entry)) {
      Set<String> names = new HashSet<>();
      Matcher matcher = NAMED.matcher(new String(in.readAllBytes(), StandardCharsets.ISO_8859_1));
      while (matcher.find()) {
        names.add(matcher.group().replace('.', '/') + ".class");
      }
      return names;
    }
  }

  private static void copied(Path jar, Path copy, Predicate<String> kept) throws IOException {
    try (JarFile file = new JarFile(jar.toFile());
        OutputStream out = Files.newOutputStream(copy);
        ZipOutputStream zip = new ZipOutputStream(out)) {
      zip.setLevel(9);
      for (Enumeration<JarEntry> entries = file.entries(); entries.hasMoreElements(); ) {
        JarEntry entry = entries.nextElement();
        if (!entry.isDirectory() && kept.test(entry.getName())) {
          ZipEntry same = new ZipEntry(entry.getName());
          same.setTime(entry.getTime());
          zip.putNextEntry(same);
          file.getInputStream(entry).transferTo(zip);
          zip.closeEntry();
        }
      }
    }
  }

  private static void texts(Path jar, Path to) throws IOException {
    try (JarFile file = new JarFile(jar.toFile())) {
      for (Enumeration<JarEntry> entries = file.entries(); entries.hasMoreElements(); ) {
        JarEntry entry = entries.nextElement();
        String name = entry.getName();
        if (!entry.isDirectory() && !name.endsWith(".class") && LICENCE.matcher(name).matches()) {
          Files.createDirectories(to);
          try (InputStream in = file.getInputStream(entry)) {
            Files.write(to.resolve(name.replaceFirst("^META-INF/", "").replace('/', '-')), in.readAllBytes());
          }
        }
      }
    }
  }

  /** As its description names it, or the description above that one. */
  private String licence(String name) throws IOException {
    Optional<Path> pom = found(name + ".pom");
    while (pom.isPresent()) {
      String text = Files.readString(pom.get()).replaceAll("(?s)<!--.*?-->", "");
      Matcher licences = Pattern.compile("(?s)<license>.*?<name>(.*?)</name>.*?</license>").matcher(text);
      Set<String> names = new TreeSet<>();
      while (licences.find()) {
        names.add(licences.group(1).strip().replaceAll("\\s+", " "));
      }
      if (!names.isEmpty()) {
        return String.join(" or ", names);
      }
      Matcher parent =
          Pattern.compile("(?s)<parent>.*?<artifactId>(.*?)</artifactId>.*?<version>(.*?)</version>.*?</parent>")
              .matcher(text);
      pom = parent.find() ? found(parent.group(1).strip() + "-" + parent.group(2).strip() + ".pom") : Optional.empty();
    }
    throw new IOException(name + ": no licence is named in Maven's local repository " + repository);
  }

  private Optional<Path> found(String pom) throws IOException {
    try (Stream<Path> all = Files.find(repository, 12, (path, is) -> path.getFileName().toString().equals(pom))) {
      return all.findFirst();
    }
  }
}
