package plan

import (
	"path"
	"slices"
	"strings"

	"gloam/internal/fault"
)

// Pictures are the endings of the files that may lie under a plan.
var Pictures = []string{".png", ".jpg", ".jpeg"}

// checkUnderlay tells an underlay that is no picture, or has no size. Whether the file is there is the page's to find.
func (c *checker) checkUnderlay() {
	u := c.doc.Set.Underlay
	if u == nil {
		return
	}
	if u.File != "" && !slices.Contains(Pictures, strings.ToLower(path.Ext(u.File))) {
		c.tell("set.underlay.file", fault.Fault{Text: "is no picture", Read: u.File, Allowed: strings.Join(Pictures, ", ")})
	}
	if u.Width != nil {
		c.between("set.underlay.width", *u.Width, smallestSide, largestRoom)
	}
}
