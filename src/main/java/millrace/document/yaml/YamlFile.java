// SPDX-License-Identifier: Apache-2.0
package millrace.document.yaml;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.document.FileMessageText;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.InputFaultList;
import org.snakeyaml.engine.v2.api.LoadSettings;
import org.snakeyaml.engine.v2.api.lowlevel.Parse;
import org.snakeyaml.engine.v2.common.ScalarStyle;
import org.snakeyaml.engine.v2.events.CollectionEndEvent;
import org.snakeyaml.engine.v2.events.CollectionStartEvent;
import org.snakeyaml.engine.v2.events.Event;
import org.snakeyaml.engine.v2.events.MappingStartEvent;
import org.snakeyaml.engine.v2.events.NodeEvent;
import org.snakeyaml.engine.v2.events.ScalarEvent;
import org.snakeyaml.engine.v2.exceptions.Mark;
import org.snakeyaml.engine.v2.exceptions.MarkedYamlEngineException;
import org.snakeyaml.engine.v2.exceptions.YamlEngineException;

/**
 * Reads YAML files into nodes with places. It refuses harmful input: tags, aliases, several
 * documents, deep nesting, huge files, bytes that are no UTF-8.
 */
public final class YamlFile {
  /** The largest file that is read, bytes. */
  public static final int MOST_BYTES = 1_000_000;

  /** The deepest nesting that is read. */
  public static final int MOST_DEPTH = 30;

  /** The most values in one file. */
  public static final int MOST_NODES = 100_000;

  private static final String MEANT = "Check that this is the file you meant.";

  private final String file;
  private final InputFaultList faults;
  private int nodes;

  private YamlFile(String file, InputFaultList faults) {
    this.file = file;
    this.faults = faults;
  }

  /**
   * Reads a file from disk, whole.
   *
   * @param path the file
   * @return its bytes
   * @throws BadInputException if it is missing, a directory, not readable or too large
   */
  public static byte[] bytes(Path path) {
    FilePlace place = FilePlace.of(path.toString());
    try {
      if (Files.isDirectory(path)) {
        throw refusal(place, "this is a directory", "a file", "Name a file in it.");
      }
      if (Files.exists(path) && !Files.isRegularFile(path)) {
        throw refusal(place, "this is a device or pipe", "a file", "Save it as a file first.");
      }
      if (Files.size(path) > MOST_BYTES) {
        throw refusal(
            place, "the file has " + Files.size(path) + " bytes", "at most " + MOST_BYTES, MEANT);
      }
      return Files.readAllBytes(path);
    } catch (NoSuchFileException e) {
      throw refusal(place, "there is no such file", "a file", "Check the path.");
    } catch (AccessDeniedException e) {
      throw refusal(place, "the file may not be read", "a readable file", "Check its permissions.");
    } catch (IOException e) {
      throw refusal(
          place, "the file cannot be read: " + FileMessageText.reason(e), "a readable file", MEANT);
    }
  }

  /**
   * Reads YAML from bytes.
   *
   * @param file the name for messages
   * @param bytes what the file holds
   * @return the root node
   * @throws BadInputException if it is no YAML that Millrace reads, with every fault found
   */
  public static Node read(String file, byte[] bytes) {
    InputFaultList faults = new InputFaultList();
    Optional<Node> root = new YamlFile(file, faults).compose(decoded(file, bytes));
    faults.throwIfAny();
    return root.orElseThrow(
        () -> refusal(FilePlace.of(file), "the file is empty", "keys with values", MEANT));
  }

  private static String decoded(String file, byte[] bytes) {
    if (bytes.length > MOST_BYTES) {
      throw refusal(
          FilePlace.of(file),
          "the file has " + bytes.length + " bytes",
          "at most " + MOST_BYTES,
          MEANT);
    }
    try {
      String text = StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes)).toString();
      return text.startsWith("\ufeff") ? text.substring(1) : text;
    } catch (CharacterCodingException e) {
      throw refusal(
          FilePlace.of(file),
          "the file is not UTF-8 text",
          "a YAML file in UTF-8",
          "Save it as UTF-8 text, or check that this is the file you meant.");
    }
  }

  /** Walks the parser's events, so that depth and size are bounded before anything recurses. */
  private Optional<Node> compose(String text) {
    LoadSettings settings =
        LoadSettings.builder()
            .setLabel(file)
            .setCodePointLimit(MOST_BYTES)
            .setUseMarks(true)
            .build();
    try {
      Iterator<Event> events = new Parse(settings).parseString(text).iterator();
      Optional<Node> first = nextDocument(events);
      nextDocument(events)
          .ifPresent(n -> faults.add(n.place(), "a second document begins", "one document a file"));
      return first.filter(n -> !isNothing(n));
    } catch (MarkedYamlEngineException e) {
      FilePlace place = e.getProblemMark().map(this::place).orElse(FilePlace.of(file));
      String problem = FileMessageText.plainly(String.valueOf(e.getProblem()));
      faults.add(InputFault.of(place, "this is not YAML: " + problem, "well-formed YAML"));
      return Optional.empty();
    } catch (YamlEngineException e) {
      faults.add(FilePlace.of(file), "this is not YAML: " + firstLine(e), "well-formed YAML");
      return Optional.empty();
    }
  }

  private Optional<Node> nextDocument(Iterator<Event> events) {
    while (events.hasNext()) {
      Event event = events.next();
      if (event instanceof NodeEvent begins) {
        return Optional.of(node(begins, events, 0));
      }
    }
    return Optional.empty();
  }

  private static boolean isNothing(Node node) {
    return node instanceof Node.Scalar scalar && scalar.isEmpty();
  }

  private Node node(NodeEvent event, Iterator<Event> events, int depth) {
    FilePlace place = event.getStartMark().map(this::place).orElse(FilePlace.of(file));
    refuseSize(place, depth);
    if (event.getAnchor().isPresent()) {
      faults.add(place, "anchors and aliases are not taken", "the value itself");
    }
    if (event instanceof ScalarEvent scalar) {
      scalar.getTag().ifPresent(tag -> refuseTag(tag, place));
      boolean quoted = scalar.getScalarStyle() != ScalarStyle.PLAIN;
      return new Node.Scalar(place, scalar.getValue(), quoted);
    } else if (event instanceof CollectionStartEvent collection) {
      collection.getTag().ifPresent(tag -> refuseTag(tag, place));
      return event instanceof MappingStartEvent
          ? entries(events, place, depth)
          : items(events, place, depth);
    }
    return new Node.Scalar(place, "", true);
  }

  private void refuseSize(FilePlace place, int depth) {
    nodes++;
    if (depth > MOST_DEPTH) {
      throw refusal(place, "values nest too deeply", "at most " + MOST_DEPTH + " levels", "");
    }
    if (nodes > MOST_NODES) {
      throw refusal(place, "the file holds too many values", "at most " + MOST_NODES, "");
    }
  }

  private Node items(Iterator<Event> events, FilePlace place, int depth) {
    List<Node> items = new ArrayList<>();
    Event event = events.next();
    while (!(event instanceof CollectionEndEvent)) {
      items.add(node((NodeEvent) event, events, depth + 1));
      event = events.next();
    }
    return new Node.Items(place, items);
  }

  private Node entries(Iterator<Event> events, FilePlace place, int depth) {
    List<Node.Entry> entries = new ArrayList<>();
    Map<String, FilePlace> seen = new HashMap<>();
    Event event = events.next();
    while (!(event instanceof CollectionEndEvent)) {
      Node key = node((NodeEvent) event, events, depth + 1);
      Node value = node((NodeEvent) events.next(), events, depth + 1);
      if (key instanceof Node.Scalar scalar) {
        FilePlace first = seen.putIfAbsent(scalar.text(), key.place());
        if (first == null) {
          entries.add(new Node.Entry(key.place(), scalar.text(), value));
        } else {
          faults.add(twice(scalar, first));
        }
      } else {
        faults.add(key.place(), "a key is " + key.inWords(), "a word as key");
      }
      event = events.next();
    }
    return new Node.Entries(place, entries);
  }

  private static InputFault twice(Node.Scalar key, FilePlace first) {
    return new InputFault(
        key.place(),
        FileMessageText.quoted(key.text()) + " is given twice, first at line " + first.line(),
        "once",
        "Delete one.");
  }

  private void refuseTag(String tag, FilePlace place) {
    faults.add(place, "the tag " + FileMessageText.quoted(tag), "no tags");
  }

  private FilePlace place(Mark mark) {
    return new FilePlace(file, mark.getLine() + 1, mark.getColumn() + 1);
  }

  private static String firstLine(YamlEngineException e) {
    return String.valueOf(e.getMessage()).lines().findFirst().orElse("unreadable");
  }

  private static BadInputException refusal(
      FilePlace place, String found, String expected, String remedy) {
    return new BadInputException(new InputFault(place, found, expected, remedy));
  }
}
