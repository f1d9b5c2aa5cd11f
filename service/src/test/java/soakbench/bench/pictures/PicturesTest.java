package soakbench.bench.pictures;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.image.BufferedImage;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import org.junit.jupiter.api.io.TempDir;

/** The pictures in the documentation are of the pages as they are. */
class PicturesTest {
  private static final Path DOCS = Path.of("..", "docs");
  private static final long MOST_BYTES = 150 * 1024;
  private static final Pattern PICTURE = Pattern.compile("!\\[([^\\]]*)\\]\\(([^)]+)\\)");
  private static final Pattern QUOTED = Pattern.compile("“([^”]+)”");
  private static final String COMMAND =
      "mvn -q -Pbench -pl service test-compile exec:exec -Dbench=pictures";

  @TempDir private Path folder;

  /** A picture where a document shows it. */
  private record Shown(Path document, String caption, Path file) {}

  private static List<Shown> shown() throws IOException {
    List<Shown> found = new ArrayList<>();
    try (Stream<Path> docs = Files.list(DOCS)) {
      List<Path> documents = new ArrayList<>(List.of(Path.of("..", "README.md")));
      docs.filter(d -> d.toString().endsWith(".md")).forEach(documents::add);
      for (Path document : documents) {
        for (MatchResult each : PICTURE.matcher(Files.readString(document)).results().toList()) {
          Path file = document.resolveSibling(each.group(2)).normalize();
          found.add(new Shown(document, each.group(1), file));
        }
      }
    }
    return found;
  }

  @Test
  void theDocumentsShowAllThatTheCommandMakesAndNothingElse() throws IOException {
    assertThat(shown())
        .extracting(s -> s.file().toString())
        .containsExactlyInAnyOrderElementsOf(
            Arrays.stream(Picture.values()).map(p -> DOCS.resolve(p.file()).toString()).toList());
    for (Picture picture : Picture.values()) {
      Path file = DOCS.resolve(picture.file());
      assertThat(Files.size(file)).as(picture.file()).isLessThan(MOST_BYTES);
      BufferedImage image = ImageIO.read(file.toFile());
      assertThat(image.getWidth()).as(picture.file()).isEqualTo(picture.widthPx);
      assertThat(image.getHeight()).as(picture.file()).isEqualTo(picture.heightPx);
    }
  }

  /** Twenty-two minutes of the demo, as far as the first three of them; a fifth of its lines. */
  @Test
  @EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
  void pagesConsistOfWhatTheyDidWhenTheyWerePicturedAndShowWhatCaptionsQuote() throws Exception {
    showAsPictured(5, Picture.BOARD.atS);
  }

  @Test
  @Tag("bench")
  @EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
  void soDoAllOfThemInTheWholeDemo() throws Exception {
    showAsPictured(1, Integer.MAX_VALUE);
  }

  private void showAsPictured(int every, int untilS) throws Exception {
    Map<String, List<String>> stored = PictureParts.read(DOCS);
    Map<Picture, Pictured> taken = PictureRun.take(folder, every, untilS);
    for (Shown each : shown()) {
      Picture picture = picture(each.file());
      List<String> quoted = QUOTED.matcher(each.caption()).results().map(q -> q.group(1)).toList();
      assertThat(quoted).as("quoted by %s of %s", each.document(), picture.file()).isNotEmpty();
      if (picture.atS <= untilS) {
        assertThat(quoted)
            .allSatisfy(words -> assertThat(taken.get(picture).text()).contains(words));
      }
    }
    taken.forEach(
        (picture, now) ->
            assertThat(now.parts())
                .as("docs/%s shows an earlier page; take it again: %s", picture.file(), COMMAND)
                .isEqualTo(stored.get(picture.file())));
  }

  private static Picture picture(Path file) {
    String name = file.getFileName().toString();
    return Arrays.stream(Picture.values()).filter(p -> p.file().equals(name)).findFirst().get();
  }
}
