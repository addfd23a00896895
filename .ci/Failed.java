// SPDX-License-Identifier: Apache-2.0
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import javax.xml.stream.XMLInputFactory;
import javax.xml.stream.XMLStreamConstants;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamReader;

/**
 * Says in ten lines which tests failed, from the reports that a build has written since it began:
 * {@code java .ci/Failed.java FOLDER BEGAN all|some}; nothing where all passed. That a process of
 * tests ended before its tests had counts as failed, and, with {@code all}, that no test ran.
 */
final class Failed {
  private static final int LINES = 8;
  private static final int WIDTH = 150;

  private final List<String> failed = new ArrayList<>();
  private int tests;

  public static void main(String[] args) throws IOException, XMLStreamException {
    Path folder = Path.of(args[0]);
    Instant began = Instant.parse(args[1]).minusSeconds(1);
    Failed all = new Failed();
    if (Files.isDirectory(folder)) {
      try (Stream<Path> files = Files.list(folder)) {
        for (Path file : files.sorted().toList()) {
          if (!Files.getLastModifiedTime(file).toInstant().isBefore(began)) {
            all.read(file);
          }
        }
      }
    }
    if (all.tests == 0 && args[2].equals("all")) {
      all.failed.add("no test ran: the reason stands above");
    }
    all.say(folder);
  }

  private void read(Path file) throws IOException, XMLStreamException {
    String name = file.getFileName().toString();
    if (name.startsWith("begun-")) {
      failed.add("a process of tests ended before they had: the reason stands above");
    } else if (name.matches("TEST-.*\\.xml")) {
      try (InputStream in = Files.newInputStream(file)) {
        read(XMLInputFactory.newInstance().createXMLStreamReader(in));
      }
    }
  }

  private void read(XMLStreamReader xml) throws XMLStreamException {
    String test = "";
    while (xml.hasNext()) {
      if (xml.next() == XMLStreamConstants.START_ELEMENT) {
        switch (xml.getLocalName()) {
          case "testcase" -> {
            tests++;
            test = xml.getAttributeValue(null, "classname") + "." + xml.getAttributeValue(null, "name");
          }
          case "failure", "error" -> failed.add(test + ": " + why(xml));
          default -> {}
        }
      }
    }
  }

  private static String why(XMLStreamReader xml) {
    String message = xml.getAttributeValue(null, "message");
    String type = xml.getAttributeValue(null, "type");
    return message == null ? String.valueOf(type) : message.strip();
  }

  private void say(Path folder) {
    if (failed.isEmpty()) {
      return;
    }
    System.out.printf("%s of %s tests failed:%n", failed.size(), tests);
    failed.stream().limit(LINES).forEach(f -> System.out.println("  " + line(f)));
    System.out.println(
        (failed.size() > LINES ? "and " + (failed.size() - LINES) + " more; " : "")
            + "all of each stands in "
            + folder);
  }

  private static String line(String text) {
    String one = text.lines().findFirst().orElse("").replaceAll("\\s+", " ");
    return one.length() > WIDTH ? one.substring(0, WIDTH - 3) + "..." : one;
  }
}
