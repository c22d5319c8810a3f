package document_test

import (
	"fmt"
	"strconv"
	"strings"

	"gloam/internal/document"
)

// Percent reads "60 %".
type Percent float64

func (p *Percent) Parse(text string) error {
	number, ok := strings.CutSuffix(text, " %")
	x, err := strconv.ParseFloat(number, 64)
	if !ok || err != nil {
		return fmt.Errorf("not a share")
	}
	if x > 100 {
		return fmt.Errorf("%s is above 100 %%", text)
	}
	*p = Percent(x)
	return nil
}

func (p *Percent) Forms() string { return "a share such as 60 %" }

type Lamp struct {
	Kit string  `yaml:"kit" required:"true" doc:"its name in the kit"`
	Dim Percent `yaml:"dim" doc:"its control"`
}

type Plan struct {
	Lamps document.Named[Lamp] `yaml:"lamps" required:"true" doc:"the lamps, by name"`
}

func Example() {
	text := `lamps:
  key: { kit: B12-D60, dim: 140 % }   # through the window
  fill:
    kti: B3-D55
`
	source, err := document.Parse("plan.yaml", []byte(text))
	if err != nil {
		fmt.Println(err)
		return
	}
	var plan Plan
	_, faults := source.Decode(&plan)
	fmt.Println(faults)

	mended, err := source.Edit("lamps.key.dim", "100 %")
	fmt.Printf("%s%v\n", mended, err)
	// Output:
	// plan.yaml:2:29: lamps.key.dim: 140 % is above 100 %; read "140 %"; allowed: a share such as 60 %
	// plan.yaml:3:3: lamps.fill.kit: is missing; its name in the kit
	// plan.yaml:4:5: lamps.fill: no such field "kti"; did you mean "kit"?
	// lamps:
	//   key: { kit: B12-D60, dim: 100 % }   # through the window
	//   fill:
	//     kti: B3-D55
	// <nil>
}
