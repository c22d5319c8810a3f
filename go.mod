module gloam

go 1.26
