// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import millrace.bench.role.RoleName;
import millrace.document.yaml.Node;
import millrace.document.yaml.YamlFile;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;

/**
 * Edits a bench file as a person would: one key at a time; everything else, with comments and
 * order, stays as it is. Immutable.
 */
public final class BenchFileEdit {
  private static final Pattern COMMENT_BEHIND = Pattern.compile("(?:[:}\\]]|^)(\\s+#[^\"']*)$");

  private final String file;
  private final List<String> lines;

  private BenchFileEdit(String file, List<String> lines) {
    this.file = file;
    this.lines = List.copyOf(lines);
  }

  /**
   * The file as it is.
   *
   * @param file its name for messages
   * @param text what it holds
   * @return the file, unchanged
   */
  public static BenchFileEdit of(String file, String text) {
    return new BenchFileEdit(file, Arrays.asList(text.split("\n", -1)));
  }

  /**
   * The file with other corrections of an instrument.
   *
   * @param instrument its name
   * @param role the role that they are for, which it has
   * @param corrections one line each, as {@code {at: 1 V, correction: 2 uV, u: 4 uV, k: 2}}
   * @return the changed file
   * @throws BadInputException if the entry is written in braces on one line, so that no line of its
   *     own can be changed
   */
  public BenchFileEdit withCorrections(String instrument, RoleName role, List<String> corrections) {
    List<String> items = corrections.stream().map(c -> "  - " + c).toList();
    List<String> path = List.of("instruments", instrument, "roles", role.text());
    return with(path, "corrections", "", items);
  }

  /**
   * The file with another certificate of an instrument.
   *
   * @param instrument its name
   * @param certificate its laboratory, number, date, and until when it counts
   * @param remarks comments that stand below it, one line each, without their sign
   * @return the changed file
   * @throws BadInputException if the entry is written in braces on one line, so that no line of its
   *     own can be changed
   */
  public BenchFileEdit withCertificate(
      String instrument, BenchFile.Certificate certificate, List<String> remarks) {
    String value =
        " {laboratory: %s, number: %s%s%s}"
            .formatted(
                inBraces(certificate.laboratory()),
                inBraces(certificate.number()),
                certificate.calibrated().map(d -> ", calibrated: " + d).orElse(""),
                certificate.due().map(d -> ", due: " + d).orElse(""));
    List<String> below = remarks.stream().map(r -> "# " + r).toList();
    return with(List.of("instruments", instrument), "certificate", value, below);
  }

  /** Quotes a text so that it may stand in braces; control characters become blanks. */
  private static String inBraces(String text) {
    StringBuilder clean = new StringBuilder();
    text.codePoints().forEach(c -> clean.appendCodePoint(Character.isISOControl(c) ? ' ' : c));
    return "'" + clean.toString().strip().replace("'", "''") + "'";
  }

  /** The whole text. */
  public String text() {
    return String.join("\n", lines);
  }

  /**
   * The lines of one instrument.
   *
   * @param instrument its name
   * @return its lines, with those of its roles
   */
  public String block(String instrument) {
    Node.Entry entry = at(List.of("instruments", instrument));
    int begin = entry.place().line() - 1;
    return String.join("\n", lines.subList(begin, end(entry))).replace("\r", "");
  }

  private BenchFileEdit with(List<String> path, String key, String value, List<String> items) {
    Node.Entry parent = at(path);
    boolean filled = parent.value() instanceof Node.Entries map && !map.entries().isEmpty();
    if (!filled) {
      return into(parent, key, value, items);
    }
    List<Node.Entry> children = ((Node.Entries) parent.value()).entries();
    children.forEach(this::refuseBraces);
    Optional<Node.Entry> old = children.stream().filter(c -> c.key().equals(key)).findFirst();
    Node.Entry last =
        children.stream()
            .filter(c -> c.key().equals("address"))
            .findFirst()
            .orElse(children.get(children.size() - 1));
    int from = old.map(o -> o.place().line() - 1).orElseGet(() -> end(last));
    int to = old.map(this::end).orElse(from);
    String indent = " ".repeat(children.get(0).place().column() - 1);
    List<String> block = new ArrayList<>();
    block.add(indent + key + ":" + value + old.map(o -> behind(from)).orElse(""));
    lines.subList(Math.min(from + 1, to), to).stream()
        .filter(BenchFileEdit::isComment)
        .map(BenchFileEdit::bare)
        .forEach(block::add);
    items.forEach(item -> block.add(indent + item));
    return replaced(from, to, block);
  }

  /** A role without any entry yet. */
  private BenchFileEdit into(Node.Entry parent, String key, String value, List<String> items) {
    refuseBraces(parent);
    int line = parent.place().line() - 1;
    String indent = " ".repeat(parent.place().column() - 1);
    List<String> block = new ArrayList<>();
    block.add(indent + parent.key() + ":" + behind(line));
    block.add(indent + "  " + key + ":" + value);
    items.forEach(item -> block.add(indent + "  " + item));
    return replaced(line, line + 1, block);
  }

  private BenchFileEdit replaced(int from, int to, List<String> block) {
    boolean carriage = lines.get(0).endsWith("\r");
    List<String> changed = new ArrayList<>(lines.subList(0, from));
    block.forEach(line -> changed.add(carriage ? line + "\r" : line));
    changed.addAll(lines.subList(to, lines.size()));
    return new BenchFileEdit(file, changed);
  }

  private Node.Entry at(List<String> path) {
    Node node = YamlFile.read(file, text().getBytes(StandardCharsets.UTF_8));
    Node.Entry entry = null;
    for (String step : path) {
      Optional<Node.Entry> next =
          node instanceof Node.Entries map ? map.find(step) : Optional.empty();
      if (next.isEmpty()) {
        throw new IllegalArgumentException("no '" + step + "' in " + file);
      }
      entry = next.get();
      node = entry.value();
    }
    return Objects.requireNonNull(entry);
  }

  /** Only an entry that begins its line can be edited. */
  private void refuseBraces(Node.Entry entry) {
    FilePlace place = entry.place();
    String before = lines.get(place.line() - 1);
    if (!before.substring(0, Math.min(before.length(), place.column() - 1)).isBlank()) {
      throw new BadInputException(
          new InputFault(
              place,
              "'" + entry.key() + "' stands in braces on a line with others",
              "each key on a line of its own, to be changed without touching the rest",
              "Write what is in the braces line by line, then call this again."));
    }
  }

  /** The line after the last one that belongs to a key: its deeper lines and its list. */
  private int end(Node.Entry entry) {
    int indent = entry.place().column() - 1;
    int end = entry.place().line();
    for (int i = end; i < lines.size(); i++) {
      String line = bare(lines.get(i));
      int depth = line.length() - line.stripLeading().length();
      if (line.isBlank() || isComment(line)) {
        continue; // belongs to the next entry, unless more lines of this one follow
      }
      if (depth < indent || (depth == indent && !line.stripLeading().startsWith("- "))) {
        break;
      }
      end = i + 1;
    }
    return end;
  }

  private static boolean isComment(String line) {
    return line.stripLeading().startsWith("#");
  }

  private static String bare(String line) {
    return line.endsWith("\r") ? line.substring(0, line.length() - 1) : line;
  }

  private String behind(int line) {
    Matcher comment = COMMENT_BEHIND.matcher(bare(lines.get(line)));
    return comment.find() ? comment.group(1) : "";
  }

  /**
   * Tells whether nothing else was changed.
   *
   * @param before the bench as it was read
   * @param after the bench as it reads now
   * @param instrument whose corrections and certificate may differ
   * @param role the role that may differ
   * @return true if all other instruments and roles are as they were
   */
  public static boolean nothingElse(
      BenchFile before, BenchFile after, String instrument, RoleName role) {
    boolean names = before.instruments().keySet().equals(after.instruments().keySet());
    return names
        && before.instruments().values().stream()
            .allMatch(
                e -> {
                  BenchFile.Entry now = after.instruments().get(e.name());
                  boolean touched = e.name().equals(instrument);
                  return e.driver().equals(now.driver())
                      && (touched || e.certificate().equals(now.certificate()))
                      && without(e, touched, role).equals(without(now, touched, role));
                });
  }

  private static Map<RoleName, RoleFacts> without(
      BenchFile.Entry entry, boolean touched, RoleName role) {
    Map<RoleName, RoleFacts> roles = new EnumMap<>(RoleName.class);
    roles.putAll(entry.roles());
    if (touched) {
      roles.computeIfPresent(
          role,
          (r, f) -> new RoleFacts(f.accuracy(), Collections.emptyList(), f.box(), f.allowed()));
    }
    return roles;
  }
}
