package course

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const answersPage = "examples/ANSWERS.md"

// answers reads the steps of the page of answers, by the heading under which they stand.
// A block marked sh is to be typed; the block marked text that follows is what it prints.
// A block with a second word, as in "csv lamp.csv", is the file of that name.
func answers(t *testing.T) map[string][]step {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(root, answersPage))
	require.NoError(t, err)
	all, err := readAnswers(string(b))
	require.NoError(t, err)
	return all
}

func readAnswers(page string) (map[string][]step, error) {
	all := map[string][]step{}
	var (
		name   string
		files  = map[string]string{}
		fenced []string // the open block, its mark first
		begin  int
	)
	for i, line := range strings.Split(page, "\n") {
		mark, isMark := strings.CutPrefix(line, "```")
		switch {
		case fenced == nil && isMark:
			fenced, begin = []string{mark}, i+1
		case isMark:
			if err := closeBlock(all, name, files, fenced, begin); err != nil {
				return nil, err
			}
			if strings.HasPrefix(fenced[0], "sh") {
				files = map[string]string{}
			}
			fenced = nil
		case fenced != nil:
			fenced = append(fenced, line)
		case strings.HasPrefix(line, "## "):
			name = strings.TrimPrefix(line, "## ")
		}
	}
	if fenced != nil {
		return nil, fmt.Errorf("%s:%d: the block is not closed", answersPage, begin)
	}
	return all, nil
}

// closeBlock files a block of the page where it belongs.
func closeBlock(all map[string][]step, name string, files map[string]string, fenced []string, begin int) error {
	text := strings.Join(fenced[1:], "\n") + "\n"
	language, file, _ := strings.Cut(fenced[0], " ")
	steps := all[name]
	switch {
	case file != "":
		files[file] = text
	case language == "sh":
		all[name] = append(steps, step{files: files, commands: text, at: fmt.Sprintf("%s:%d", answersPage, begin)})
	case language == "text" && len(steps) > 0 && steps[len(steps)-1].excerpt == "":
		steps[len(steps)-1].excerpt = text
	default:
		return fmt.Errorf("%s:%d: a block %q is no command, no output of one, and no file", answersPage, begin, fenced[0])
	}
	return nil
}

func TestReadAnswers(t *testing.T) {
	got, err := readAnswers("# A\n\n## plan\n\n```csv a.csv\n1\n```\n\n```sh\nx\n```\n\n```text\ny\n```\n\n```sh\nz\n```\n")
	require.NoError(t, err)
	require.Len(t, got["plan"], 2)
	first, second := got["plan"][0], got["plan"][1]
	if first.files["a.csv"] != "1\n" || first.commands != "x\n" || first.excerpt != "y\n" || second.commands != "z\n" || second.excerpt != "" || len(second.files) > 0 {
		t.Errorf("%+v", got)
	}
	for _, bad := range []string{"```text\ny\n```\n", "```sh\nx\n", "## a\n```sh\nx\n```\n```text\ny\n```\n```text\ny\n```\n", "```\nx\n```\n"} {
		if _, err := readAnswers(bad); err == nil {
			t.Errorf("%q passes", bad)
		}
	}
}
