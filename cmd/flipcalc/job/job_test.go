package job

import "testing"

// A written program is face-NAME.nc or back-NAME.nc, mirrored or not, NAME the maker's
// file without its ending; face and back at the beginning aren't said twice.
func TestOutName(t *testing.T) {
	for _, c := range []struct{ path, key, want string }{
		{"shop/face.nc", "face", "face.nc"},
		{"Face.tap", "face", "Face.nc"},
		{"face-a.nc", "face", "face-a.nc"},
		{"facets.nc", "face", "face-facets.nc"},
		{"back.nc", "face", "face-back.nc"},
		{"outline.nc", "face", "face-outline.nc"},
		{"outline.nc", "mirror", "back-outline.nc"},
		{"outline.v2.ngc", "mirror", "back-outline.v2.nc"},
		{"back-outline.nc", "mirror", "back-outline.nc"},
		{"back.nc", "mirror", "back.nc"},
		{"back.nc", "back", "back.nc"},
		{"tag back.nc", "mirror", "back-tag back.nc"},
		{"tag-Back", "mirror", "back-tag-Back.nc"},
		{"tag-back.nc", "back", "back-tag-back.nc"},
		{"lettering.nc", "back", "back-lettering.nc"},
		{"backgammon.nc", "mirror", "back-backgammon.nc"},
		{"face.nc", "mirror", "back-face.nc"},
		{"pair2-back.nc", "mirror", "back-pair2-back.nc"}, // pair2- is for the second pair's programs
		{".nc", "back", "back-.nc"},
	} {
		if got := outName(c.path, c.key); got != c.want {
			t.Errorf("%s as %s: %s, want %s", c.path, c.key, got, c.want)
		}
	}
}
