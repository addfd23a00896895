// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import java.io.IOException;
import java.net.MalformedURLException;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.ServiceConfigurationError;
import java.util.ServiceLoader;
import java.util.TreeMap;
import java.util.stream.Stream;
import millrace.bench.role.Instrument;
import millrace.bench.role.InstrumentDriver;
import millrace.bench.role.SetPointGate;
import millrace.document.FileMessageText;
import millrace.document.yaml.YamlFile;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.InputFaultList;
import millrace.link.Link;

/**
 * All drivers: files in a folder, and classes from jars in the same folder or on the class path.
 * Immutable once loaded.
 */
public final class Drivers {
  private final Map<String, Opener> byName;
  private final String folder;

  /**
   * A driver that is ready to open instruments.
   *
   * @param source where it comes from, for messages
   * @param file its file; empty if it is a class
   * @param maker opens instruments
   */
  private record Opener(String source, Optional<DriverFile> file, Maker maker) {}

  private interface Maker {
    Instrument open(InstrumentDriver.Connection connection);
  }

  private Drivers(Map<String, Opener> byName, String folder) {
    this.byName = byName;
    this.folder = folder;
  }

  /**
   * Loads every driver of a folder, and the classes that {@link ServiceLoader} finds.
   *
   * @param folder the folder that the user named
   * @return the drivers
   * @throws BadInputException if a file does not validate or two drivers have one name
   */
  public static Drivers load(Path folder) {
    Map<String, Opener> byName = new TreeMap<>();
    InputFaultList faults = new InputFaultList();
    for (Path file : files(folder, ".yaml")) {
      try {
        DriverFile driver = DriverForms.DRIVER.readFile(file.toString(), YamlFile.bytes(file));
        add(byName, driver.name(), ofFile(file, driver), faults);
      } catch (BadInputException e) {
        e.faults().forEach(faults::add);
      }
    }
    addClasses(byName, folder, faults);
    faults.throwIfAny();
    return new Drivers(byName, folder.toString());
  }

  private static void addClasses(Map<String, Opener> byName, Path folder, InputFaultList faults) {
    Iterator<InstrumentDriver> classes =
        ServiceLoader.load(InstrumentDriver.class, jars(folder)).iterator();
    try {
      while (classes.hasNext()) {
        InstrumentDriver driver = classes.next();
        String source = "class " + driver.getClass().getName();
        if (driver.name().isBlank()) {
          faults.add(FilePlace.of(source), "the driver has a blank name", "a name of its own");
        } else {
          add(byName, driver.name(), new Opener(source, Optional.empty(), driver::open), faults);
        }
      }
    } catch (ServiceConfigurationError e) {
      faults.add(
          new InputFault(
              FilePlace.of(folder.toString()),
              "a driver class cannot be loaded: " + e.getMessage(),
              "a public class with a public constructor, built for this version",
              "Build its jar again, or take it out of the folder."));
    }
  }

  private static Opener ofFile(Path file, DriverFile driver) {
    return new Opener(file.toString(), Optional.of(driver), c -> new TextInstrument(driver, c));
  }

  private static void add(
      Map<String, Opener> byName, String name, Opener opener, InputFaultList faults) {
    Opener first = byName.putIfAbsent(name, opener);
    if (first != null) {
      faults.add(
          new InputFault(
              FilePlace.of(opener.source()),
              "a second driver is called " + FileMessageText.quoted(name),
              "one; the first is " + first.source(),
              "Rename one of them."));
    }
  }

  private static List<Path> files(Path folder, String ending) {
    if (!Files.isDirectory(folder)) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of(folder.toString()),
              "there is no such folder",
              "a folder of drivers",
              "Name it with --drivers."));
    }
    try (Stream<Path> files = Files.list(folder)) {
      return files.filter(f -> f.toString().endsWith(ending)).sorted().toList();
    } catch (IOException e) {
      throw new BadInputException(
          InputFault.of(
              FilePlace.of(folder.toString()),
              "the folder cannot be read: " + FileMessageText.reason(e),
              "a readable folder"));
    }
  }

  private static ClassLoader jars(Path folder) {
    List<URL> urls = new ArrayList<>();
    for (Path jar : files(folder, ".jar")) {
      try {
        urls.add(jar.toUri().toURL());
      } catch (MalformedURLException e) {
        throw new BadInputException(
            InputFault.of(
                FilePlace.of(jar.toString()), "the path cannot be a URL", "another name"));
      }
    }
    ClassLoader ours = Drivers.class.getClassLoader();
    return urls.isEmpty() ? ours : new URLClassLoader(urls.toArray(URL[]::new), ours);
  }

  /**
   * The names of all drivers, sorted.
   *
   * @return the names
   */
  public List<String> names() {
    return List.copyOf(byName.keySet());
  }

  /**
   * Opens an instrument; nothing is sent to it yet.
   *
   * @param driver a name that {@link #check} accepted
   * @param connection what it is handed
   * @return the instrument
   */
  public Instrument open(String driver, InstrumentDriver.Connection connection) {
    return known(driver).maker().open(connection);
  }

  /**
   * A link with the settings of a driver, for direct conversation with an instrument.
   *
   * @param driver a name that {@link #check} accepted
   * @param link the bare link
   * @return a link with the line ends and time-outs of a driver file; the same for a driver class
   */
  public Link plainly(String driver, Link link) {
    return known(driver)
        .file()
        .map(f -> link.speaking(f.speech().framing(), f.speech().timing()))
        .orElse(link);
  }

  /**
   * A line as it must be sent.
   *
   * @param driver a name that {@link #check} accepted
   * @param line what is said
   * @return the line with the check digits of a driver file, if it has any
   */
  public String wrapped(String driver, String line) {
    return known(driver)
        .file()
        .flatMap(f -> f.speech().checksum())
        .map(c -> c.wrap(line))
        .orElse(line);
  }

  /**
   * Refuses a line that sets a supply or a chamber beyond its limits, if the line has the form of a
   * command of the driver file.
   *
   * @param driver a name that {@link #check} accepted
   * @param settings what the bench file sets for the instrument
   * @param line what is to be said, without check digits
   * @param gate knows what is allowed
   * @throws millrace.fault.InstrumentException if it is beyond
   */
  public void refuseBeyond(
      String driver, Map<String, String> settings, String line, SetPointGate gate) {
    known(driver)
        .file()
        .ifPresent(
            file ->
                new SetPointCommandDetector(file, all(file, settings)).refuseBeyond(line, gate));
  }

  /**
   * Refuses a safe state that sets a supply or a chamber beyond its limits: it would not be sent
   * when it is needed.
   *
   * @param driver a name that {@link #check} accepted
   * @param settings what the bench file sets for the instrument
   * @param gate knows what is allowed
   * @throws millrace.fault.InstrumentException if it is beyond
   */
  public void refuseSafeBeyond(String driver, Map<String, String> settings, SetPointGate gate) {
    known(driver)
        .file()
        .ifPresent(
            file -> {
              Map<String, Object> all = all(file, settings);
              new SetPointCommandDetector(file, all).refuseBeyond(file.safe(), all, gate);
            });
  }

  private static Map<String, Object> all(DriverFile file, Map<String, String> settings) {
    Map<String, Object> all = new HashMap<>();
    file.settings().forEach((name, preset) -> preset.ifPresent(p -> all.put(name, p)));
    all.putAll(settings);
    return all;
  }

  private Opener known(String driver) {
    Opener opener = byName.get(driver);
    if (opener == null) {
      throw new IllegalArgumentException("driver '" + driver + "' was not checked");
    }
    return opener;
  }

  /**
   * Checks that a driver exists.
   *
   * @param driver its name
   * @param place where it is asked for
   * @param faults takes the fault if it does not
   */
  public void check(String driver, FilePlace place, InputFaultList faults) {
    if (!byName.containsKey(driver)) {
      faults.add(
          new InputFault(
              place,
              "there is no driver " + FileMessageText.quoted(driver) + " in " + folder,
              FileMessageText.oneOf(byName.keySet()),
              FileMessageText.didYouMean(driver, byName.keySet())));
    }
  }

  /**
   * Checks the settings of an instrument in a bench file against those of its driver file; a driver
   * class checks them itself.
   *
   * @param driver a name that {@link #check} accepted
   * @param settings what the bench file sets
   * @param place where it stands
   * @param faults takes every setting that is not known or is missing
   */
  public void checkSettings(
      String driver, Map<String, String> settings, FilePlace place, InputFaultList faults) {
    known(driver)
        .file()
        .ifPresent(
            file -> {
              settings.keySet().stream()
                  .filter(name -> !file.settings().containsKey(name))
                  .forEach(name -> faults.add(unknownSetting(file, name, place)));
              file.settings()
                  .forEach(
                      (name, preset) -> {
                        if (preset.isEmpty() && !settings.containsKey(name)) {
                          faults.add(missingSetting(file, name, place));
                        }
                      });
            });
  }

  private static InputFault unknownSetting(DriverFile file, String name, FilePlace place) {
    return new InputFault(
        place,
        "driver '" + file.name() + "' knows no setting " + FileMessageText.quoted(name),
        file.settings().isEmpty() ? "no settings" : FileMessageText.oneOf(file.settings().keySet()),
        FileMessageText.didYouMean(name, file.settings().keySet()));
  }

  private static InputFault missingSetting(DriverFile file, String name, FilePlace place) {
    return new InputFault(
        place,
        "driver '" + file.name() + "' needs the setting '" + name + "'",
        "it under 'settings:'",
        "Add 'settings: {" + name + ": ...}'.");
  }
}
