package soakbench.ingest;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.rackfile.RackFileParser;
import soakbench.ingest.source.SourceReader;
import soakbench.lines.LineCounts;
import soakbench.lines.Rejection;
import soakbench.model.Sample;

/** What the guides show must work as shown. */
class DocsExamplesTest {
  private static final Path DOCS = Path.of("..", "docs");

  @TempDir Path folder;

  private static List<String> blocks(String file, String language) throws IOException {
    Pattern block = Pattern.compile("```" + language + "\n(.*?)```", Pattern.DOTALL);
    Matcher matcher = block.matcher(Files.readString(DOCS.resolve(file)));
    List<String> found = new ArrayList<>();
    while (matcher.find()) {
      found.add(matcher.group(1));
    }
    assertThat(found).as("%s blocks of %s", language, file).isNotEmpty();
    return found;
  }

  @ParameterizedTest
  @ValueSource(strings = {"jsonl", "csv"})
  void everyLineShownIsTaken(String language) throws IOException {
    for (String block : blocks("line-formats.md", language)) {
      List<Sample> samples = new ArrayList<>();
      SourceReader reader = new SourceReader(LineSettings.NONE, samples::add);
      byte[] bytes = block.getBytes(UTF_8);
      reader.feed(bytes, bytes.length, 1_700_000_000_000_000L);
      reader.stop();
      LineCounts counts = reader.counts();
      assertThat(counts.rejected()).as(block).isEmpty();
      assertThat(counts.lines()).isEqualTo(block.lines().count());
      assertThat(samples).isNotEmpty().allMatch(Sample::hasTemperature);
    }
  }

  @Test
  void everyKindOfRejectionIsExplained() throws IOException {
    String text = Files.readString(DOCS.resolve("line-formats.md"));
    assertThat(Stream.of(Rejection.Kind.values()).filter(k -> !text.contains("`" + k + "`")))
        .isEmpty();
  }

  @Test
  void theRackFileShownIsRight() throws IOException {
    for (String block : blocks("wiring.md", "yaml")) {
      RackFile rack = RackFileParser.read(Files.writeString(folder.resolve("rack.yaml"), block));
      assertThat(rack.slots()).hasSize(rack.listen().isNothing() ? 4 : 1);
    }
  }
}
