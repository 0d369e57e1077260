package api

// The specification is written first, in openapi.yaml at the top of the
// repository. A copy lies here because a Go file can embed nothing from above
// its own folder; CI fails where the copy or the generated code is out of date.
// Its lists of codes are those of the catalogues.
//
//go:generate go run ./docs/codes ../openapi.yaml
//go:generate cp ../openapi.yaml openapi.gen.yaml
//go:generate go run github.com/oapi-codegen/oapi-codegen/v2/cmd/oapi-codegen@v2.8.2 -config oapi.yaml openapi.gen.yaml
